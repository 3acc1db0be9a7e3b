// "What if" with a script: a changed value is asked at once, and the answer takes the place of the page without the
// reader losing the place in it. Without this script the same form works with its button.
const main = document.getElementById("report");
/** Every question is put to the study this page was opened on, so that its differences are always from that one. */
const action = main.querySelector(".what-if form")?.action;
const WAIT_MS = 400;

const formOf = (root) => root.querySelector(".what-if form");
const say = (text) => {
  main.querySelector(".what-if [role=status]").textContent = text;
};

let asking = new AbortController();
let waiting;

/** Asks with the values as they are; a newer question takes the place of an unanswered one. */
async function ask() {
  clearTimeout(waiting);
  const form = formOf(main);
  if (!form.checkValidity()) {
    say("One value is outside what can be worked out.");
    return;
  }
  asking.abort();
  asking = new AbortController();
  form.setAttribute("aria-busy", "true");
  say("Working it out again …");
  try {
    const answer = await fetch(action, { method: "POST", body: new FormData(form), signal: asking.signal });
    const text = await answer.text();
    if (answer.ok) show(new DOMParser().parseFromString(text, "text/html"), answer.url);
    else refused(answer, text);
  } catch (error) {
    if (error.name !== "AbortError") refused();
  }
}

function refused(answer, text = "") {
  formOf(main).removeAttribute("aria-busy");
  say(`That could not be worked out. ${reasonIn(answer, text)} The page still shows the values before.`);
}

function reasonIn(answer, text) {
  if (!answer) return "The service was not reached.";
  if (answer.status === 503) return "The service is busy: try again in a moment.";
  try {
    const { title, detail, problems = [] } = JSON.parse(text);
    return [detail ?? title, ...problems.map((p) => `${p.message} ${p.remedy ?? ""}`)].join(" ").trim();
  } catch {
    return "";
  }
}

/** Takes over the answered page: its numbers marked where they differ, the form where the reader left it. */
function show(page, url) {
  const answered = page.getElementById("report");
  if (!answered || !formOf(answered)) return location.assign(url);
  const held = document.activeElement?.name;
  const before = formOf(main).getBoundingClientRect().top;
  markNumbers(answered);
  main.replaceChildren(...answered.childNodes);
  document.title = page.title;
  history.pushState(null, "", url);
  const form = formOf(main);
  form.action = action;
  main.querySelector(".what-if-answer").replaceChildren(...answersBeside());
  window.scrollBy({ top: form.getBoundingClientRect().top - before, behavior: "instant" });
  if (held) form.elements.namedItem(held)?.focus({ preventScroll: true });
  say(spoken());
}

/** What each of the client's numbers was, beside what it is. */
function markNumbers(answered) {
  for (const now of answered.querySelectorAll(".numbers > div")) {
    const name = now.querySelector("dt").textContent;
    const was = firstSeen.get(name);
    const likely = now.querySelector(".likely");
    if (was === undefined || was === likely.textContent) continue;
    const line = document.createElement("dd");
    line.className = "was";
    line.textContent = `before: ${was}`;
    likely.after(line);
  }
}

/** The table of differences again, where the reader is. */
function answersBeside() {
  return [...main.querySelectorAll(".changes > :not(h2)")].map((part) => part.cloneNode(true));
}

function spoken() {
  const rows = [...main.querySelectorAll(".changes table:last-of-type tbody tr")];
  const words = rows.map((row) => {
    const [was, now] = row.querySelectorAll("td");
    return `${row.querySelector("th").textContent}: ${was.textContent} before, now ${now.textContent}`;
  });
  return words.length ? `Done. ${words.join(". ")}.` : "Done. Nothing on the first page changed.";
}

const firstSeen = new Map(
  [...main.querySelectorAll(".numbers > div")].map((number) => [
    number.querySelector("dt").textContent,
    number.querySelector(".likely").textContent,
  ]),
);

if (action) {
  main.addEventListener("change", (event) => {
    if (event.target.form === formOf(main)) waiting = setTimeout(ask, WAIT_MS);
  });
  main.addEventListener("submit", (event) => {
    if (event.target !== formOf(main)) return;
    event.preventDefault();
    ask();
  });
  window.addEventListener("popstate", () => location.reload());
}
