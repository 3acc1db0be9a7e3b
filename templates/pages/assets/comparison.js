// Shows how far the comparison is, and loads the page again when it has ended.
const line = document.getElementById("progress");
if (line) {
  const events = new EventSource(line.dataset.events);
  events.addEventListener("progress", (event) => {
    const { progress } = JSON.parse(event.data);
    line.textContent = `${progress.done} of ${progress.total} studied${progress.failed ? `, ${progress.failed} failed` : ""}.`;
  });
  events.addEventListener("done", () => {
    events.close();
    location.reload();
  });
}
