// The buyer's page with a script: the survey is looked at as soon as it is chosen, the street is clicked in the
// picture, and the work is followed step by step. Everything here also works as a plain form without it.
const form = document.getElementById("lot");
const look = document.getElementById("look");
const refusal = document.getElementById("refusal");
const progress = document.getElementById("progress");
const steps = document.getElementById("steps");
const bar = progress.querySelector("progress");
const study = document.getElementById("study");

// The script sends the files each time, so nothing has to be kept for it.
const mark = document.createElement("input");
Object.assign(mark, { type: "hidden", name: "script", value: "1" });
form.append(mark);
document.querySelector(".look-button").hidden = true;

const hasTopo = () => form.topo.files.length > 0 || form.surveyId !== undefined;
const hasBoundary = () =>
  form.boundary.files.length > 0 || form.calls.value.trim() !== "" || form.surveyId !== undefined;

/** Takes a section of the page the server answered with in place of ours. */
function takeFrom(html, id) {
  const answered = new DOMParser().parseFromString(html, "text/html").getElementById(id);
  const ours = document.getElementById(id);
  ours.replaceChildren(...answered.childNodes);
  ours.hidden = answered.hidden;
  return ours;
}

function showRefusal(html) {
  const section = takeFrom(html, "refusal");
  section.focus();
  section.scrollIntoView({ block: "start" });
}

let looking = 0;
async function lookAgain() {
  if (!hasTopo() || !hasBoundary()) return;
  const turn = ++looking;
  look.textContent = "Reading the survey …";
  const answer = await fetch("/lots/look", {
    method: "POST",
    body: new FormData(form),
    headers: { accept: "text/html" },
  }).catch(() => null);
  if (turn !== looking) return;
  if (!answer) {
    look.textContent = "The service cannot be reached. Your files are still chosen; try again in a moment.";
    return;
  }
  const html = await answer.text();
  takeFrom(html, "look");
  if (answer.ok) {
    refusal.hidden = true;
    wireEdges();
  } else showRefusal(html);
}

function wireEdges() {
  const boxes = [...look.querySelectorAll("input[data-edge]")];
  const street = look.querySelector(".edges");
  const paint = () => {
    for (const box of boxes)
      look
        .querySelector(`.edge[data-edge="${box.dataset.edge}"]`)
        ?.classList.toggle("edge-street", box.checked);
  };
  for (const box of boxes)
    box.addEventListener("change", () => {
      delete street.dataset.guessed;
      paint();
    });
  for (const edge of look.querySelectorAll(".edge")) {
    // A broad unseen line takes the click: the drawn one is too thin for a finger.
    const hit = edge.querySelector("path").cloneNode();
    hit.setAttribute("class", "edge-hit");
    edge.prepend(hit);
    edge.addEventListener("click", () => {
      const box = boxes.find((b) => b.dataset.edge === edge.dataset.edge);
      // The first side somebody shows takes the place of our guess; more are added to it.
      if ("guessed" in street.dataset) for (const other of boxes) other.checked = other === box;
      else box.checked = !box.checked;
      delete street.dataset.guessed;
      paint();
    });
  }
  paint();
}

for (const name of [
  "topo",
  "boundary",
  "calls",
  "startEasting",
  "startNorthing",
  "unit",
  "columnNorthing",
  "columnEasting",
  "columnElevation",
])
  form[name].addEventListener("change", lookAgain);

for (const place of document.querySelectorAll(".drop")) {
  const input = place.querySelector("input");
  place.addEventListener("dragover", (event) => {
    event.preventDefault();
    place.classList.add("over");
  });
  place.addEventListener("dragleave", () => place.classList.remove("over"));
  place.addEventListener("drop", (event) => {
    event.preventDefault();
    place.classList.remove("over");
    const [first, second] = event.dataTransfer.files;
    if (!first) return;
    put(input, first);
    // Two files dropped at once: the other one is the other survey.
    if (second) put(input === form.topo ? form.boundary : form.topo, second);
    lookAgain();
  });
}

function put(input, file) {
  const list = new DataTransfer();
  list.items.add(file);
  input.files = list.files;
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (!hasTopo()) return needed(form.topo, "Choose the topographic survey.");
  if (!hasBoundary())
    return needed(form.boundary, "Choose the boundary, or paste its bearings and distances.");
  study.disabled = true;
  refusal.hidden = true;
  try {
    const answer = await fetch("/lots", {
      method: "POST",
      body: new FormData(form),
      headers: { accept: "text/html", prefer: "respond-async" },
    });
    if (answer.status === 202) await follow(await answer.json());
    else showRefusal(await answer.text());
  } catch {
    showWords("The service cannot be reached.", "Nothing is lost: try again in a moment.");
  } finally {
    study.disabled = false;
  }
});

function needed(input, words) {
  input.setCustomValidity(words);
  input.reportValidity();
  input.addEventListener("change", () => input.setCustomValidity(""), { once: true });
}

function follow(job) {
  progress.hidden = false;
  steps.replaceChildren();
  bar.value = 0;
  progress.focus();
  progress.scrollIntoView({ block: "center" });
  return new Promise((resolve) => {
    const events = new EventSource(job.links.events);
    const show = ({ message, progress: percent, status }) => {
      bar.value = percent;
      if (status !== "running" || steps.lastElementChild?.textContent === message) return;
      const line = document.createElement("li");
      line.textContent = message;
      steps.append(line);
    };
    events.addEventListener("progress", (event) => show(JSON.parse(event.data)));
    events.addEventListener("done", (event) => {
      events.close();
      const ended = JSON.parse(event.data);
      if (ended?.status === "successful") location.assign(ended.links.share);
      else {
        progress.hidden = true;
        showProblem(ended?.problem);
      }
      resolve();
    });
  });
}

function showProblem(problem) {
  if (!problem) return showWords("The work was lost.", "Send the lot again.");
  showWords(problem.title, "Nothing you typed is lost.");
  const list = document.createElement("ul");
  list.className = "problems";
  for (const { where, row, message, remedy } of problem.errors) {
    const line = document.createElement("li");
    const place = document.createElement("strong");
    place.textContent = `${where}${row ? `, row ${row}` : ""}: `;
    const mend = document.createElement("span");
    mend.className = "remedy";
    mend.textContent = ` ${remedy}`;
    line.append(place, message, mend);
    list.append(line);
  }
  refusal.firstElementChild.after(list);
}

function showWords(title, words) {
  const heading = document.createElement("h2");
  heading.textContent = title;
  const line = document.createElement("p");
  line.textContent = words;
  refusal.replaceChildren(heading, line);
  refusal.hidden = false;
  refusal.focus();
}
