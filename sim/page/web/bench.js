// The bench: what is set on the left goes to the engine as the raw tables of a scenario, and what it answers is shown.
// Nothing is worked out here.
// @ts-check
import { ask, whenBack } from "./line.js";
import { get, make, reader, speak } from "./page_words.js";
import { drawForm } from "./form.js";
import { prepareAnswers, toldAnew, work } from "./answers.js";
import { prepareMotion } from "./diver.js";
import { prepareFiles, save, title } from "./files.js";
import { preparePhoto } from "./photo.js";
import { begin, canRedo, canUndo, isSaved, keep, moved, recall, redo, state, undo, whenMoved } from "./set_up.js";

function marks() {
  get("undo").disabled = !canUndo();
  get("redo").disabled = !canRedo();
  get("save").disabled = isSaved();
}

whenMoved((sliding) => {
  if (!sliding) drawForm();
  marks();
  work();
});
whenBack(() => state.file, () => moved(false));

document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const typing = /** @type {any} */ (event.target)?.type === "text";
  const key = event.key.toLowerCase();
  if (key === "z" && !event.shiftKey && !typing) undo();
  else if ((key === "y" || (key === "z" && event.shiftKey)) && !typing) redo();
  else if (key === "s") {
    const here = /** @type {any} */ (document.activeElement);
    here?.blur(); // takes over what is typed
    here?.focus();
    save();
  } else return;
  event.preventDefault();
});
get("form").addEventListener("submit", (/** @type {Event} */ event) => event.preventDefault());
get("undo").addEventListener("click", undo);
get("redo").addEventListener("click", redo);
addEventListener("beforeunload", (event) => {
  if (!isSaved()) event.preventDefault();
});

/** In which words, units and fields the program speaks. @param {any} start */
function hear(start) {
  speak(start);
  state.groups = start.groups;
  get("language").value = reader.language;
  get("units").value = reader.units;
}

const start = await ask("start", { mark: recall("mark"), ...recall("reader") });
if (start) {
  for (const [code, name] of Object.entries(start.languages)) get("language").append(make("option", { value: code, textContent: name, lang: code }));
  hear(start);
  for (const id of ["language", "units"])
    get(id).addEventListener("change", async () => {
      const asked = { language: get("language").value, units: get("units").value };
      keep("reader", asked);
      const other = await ask("start", { mark: state.mark, ...asked });
      if (!other) return;
      hear(other);
      toldAnew();
    });
  prepareMotion();
  prepareAnswers();
  preparePhoto();
  begin(start);
  title();
  prepareFiles();
  moved(false);
}
