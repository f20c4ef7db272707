// Opening, saving, writing out, and what is dropped on the page.
// @ts-check
import { ask, fetched } from "./line.js";
import { button, get, make, note, say } from "./page_words.js";
import { lookAt, told } from "./form.js";
import { begin, changed, moved, replaced, state, valueAt, written } from "./set_up.js";
import { isPicture, takePicture } from "./photo.js";

const DRAWINGS = [".dxf", ".svg", ".stl", ".3mf", ".glb", ".step", ".stp"];
const MOST = 50.1; // MB of a drawing, as the program reads

/** @param {any} begun */
function opened(begun, fresh = false) {
  note("", true);
  begin(begun, fresh);
  title();
  moved(false);
  get("files-box").close();
  greet();
}

export function title() {
  get("file").textContent = state.file;
  document.title = `${state.file}: hangflat`;
}

/** Save; asks first where the file has changed meanwhile. @param {any} [more] */
export async function save(more = {}) {
  const answer = await ask("save", { document: state.setUp, mark: state.mark, base: state.base, ...more });
  if (!answer) return;
  if (answer.problems && get("files-box").open) return (get("files-note").textContent = answer.problems.map((/** @type {any} */ p) => p.message).join("  "));
  if (answer.problems) return told(answer.problems);
  if (answer.changed) {
    note(say("changed file"));
    get("note").append(" ", button(say("save over"), () => save({ over: true })), " ", button(say("read it"), anew));
    return;
  }
  const other = answer.mark !== state.mark;
  written(answer);
  title();
  note(say("saved", { file: answer.file }), true);
  moved(false);
  if (other) get("files-box").close();
  channel?.postMessage({ saved: state.mark });
}

async function anew() {
  const answer = await ask("open", { mark: state.mark, anew: true });
  if (answer?.document) opened(answer, true);
}

async function showFiles() {
  const found = await ask("files", { mark: state.mark });
  if (!found) return;
  const choose = async (/** @type {any} */ which) => {
    const answer = await ask("open", { mark: state.mark, ...which });
    if (!answer) return;
    if (answer.problems) get("files-note").textContent = answer.problems.map((/** @type {any} */ p) => p.message).join("  ");
    else opened(answer);
  };
  get("files-note").textContent = "";
  get("file-link").textContent = found.link;
  const rows = (/** @type {any[]} */ list) => list.map((one) => make("li", {}, one));
  get("recent").replaceChildren(...rows(found.recent.map((/** @type {any} */ r) => button(r.name, () => choose({ recent: r.mark }), { title: r.folder }))));
  get("beside").replaceChildren(...rows(found.beside.map((/** @type {string} */ name) => button(name, () => choose({ name })))));
  get("new-name").value = state.file.replace(/(\.toml)?$/i, "-2.toml");
  get("files-box").showModal();
}

/** What can be written, each with its command. */
async function showOutputs() {
  const found = await ask("outputs", { document: state.setUp, mark: state.mark });
  if (!found?.outputs) return found && told(found.problems);
  const list = get("what-output");
  const before = list.value;
  list.replaceChildren(...found.outputs.map((/** @type {any} */ o) => make("option", { value: o.name, textContent: o.label })));
  if (before) list.value = before;
  const show = () => {
    const one = found.outputs.find((/** @type {any} */ o) => o.name === list.value);
    get("command").textContent = one?.command ?? say("save first");
    get("copy").disabled = !one?.command;
  };
  list.onchange = show;
  show();
  get("output-note").textContent = "";
  get("output-box").showModal();
}

async function write() {
  const name = get("what-output").value;
  const bar = make("progress");
  bar.setAttribute("aria-label", say("looking"));
  get("output-note").replaceChildren(`${say("looking")} `, bar);
  get("write").disabled = true;
  const answer = await fetched("write", JSON.stringify({ document: state.setUp, mark: state.mark, name }));
  get("write").disabled = false;
  if (!answer) return;
  if (!answer.headers.has("content-disposition")) {
    const told = await answer.json();
    get("output-note").textContent = (told.problems ?? []).map((/** @type {any} */ p) => p.message).join("  ");
    return;
  }
  const file = decodeURIComponent(/UTF-8''(.*)$/.exec(answer.headers.get("content-disposition") ?? "")?.[1] ?? "hangflat");
  const link = make("a", { href: URL.createObjectURL(await answer.blob()), download: file });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
  get("output-note").textContent = say("written", { name: file });
}

/** A file that was dropped or chosen: a drawing, a scenario or a picture. @param {File} file */
export async function take(file) {
  const lower = file.name.toLowerCase();
  if (lower.endsWith(".toml")) {
    const answer = await ask("import", { text: await file.text(), name: file.name, mark: state.mark });
    if (answer?.problems) return note(answer.problems.map((/** @type {any} */ p) => p.message).join("  "));
    if (answer) replaced(answer.document);
    return get("files-box").close();
  }
  if (DRAWINGS.some((ending) => lower.endsWith(ending))) return drawing(file);
  if (isPicture(file)) return takePicture(file);
  note(say("unknown drop", { name: file.name }));
}

/** Whether it is drawn flat, so that bends and thickness are asked for; else it is a solid. @param {string} name */
const isFlat = (name) => /\.(dxf|svg)$/i.test(name);

/** @param {File} file */
async function drawing(file) {
  get("files-box").close();
  if (file.size > MOST * 1e6) return note(say("too large", { name: file.name, size: (file.size / 1e6).toFixed(0), most: MOST.toFixed(0) }));
  note(say("reading", { name: file.name }), true);
  const answer = await fetched(`drawing?name=${encodeURIComponent(file.name)}`, file);
  if (!answer) return;
  const found = await answer.json();
  if (found.problems) return note(found.problems.map((/** @type {any} */ p) => p.message).join("  "));
  changed((copy) => {
    const now = valueAt("plate");
    const entry = typeof now === "string" ? (now === "none" ? undefined : now) : now?.catalogue;
    copy.plate = { ...(entry ? { catalogue: entry } : { material: "stainless steel", ...(isFlat(file.name) ? { thickness: "3 mm" } : {}) }), file: found.file };
  });
  const flat = isFlat(file.name);
  // an STL file says no unit
  if (flat || /\.stl$/i.test(file.name)) lookAt(["Plate and harness"], flat ? "plate.thickness" : "plate.unit");
  note(say(flat ? "dropped" : "dropped solid", { name: file.name }), true);
}

/** @type {BroadcastChannel | null} */
let channel = null;
function greet() {
  channel?.postMessage({ hello: state.mark });
}

export function prepareFiles() {
  get("save").addEventListener("click", () => save());
  get("files").addEventListener("click", showFiles);
  get("save-as").addEventListener("click", () => save({ name: get("new-name").value }));
  get("new-name").addEventListener("keydown", (/** @type {KeyboardEvent} */ e) => {
    if (e.key !== "Enter") return;
    e.preventDefault();
    save({ name: get("new-name").value });
  });
  get("export").addEventListener("click", showOutputs);
  get("write").addEventListener("click", write);
  for (const [press, text, told] of [["copy", "command", "output-note"], ["copy-link", "file-link", "files-note"]])
    get(press).addEventListener("click", async () => {
      try {
        await navigator.clipboard.writeText(get(text).textContent);
        get(told).textContent = say("copied");
      } catch {
        getSelection()?.selectAllChildren(get(text));
      }
    });
  get("chosen").addEventListener("change", () => {
    const [file] = get("chosen").files;
    get("chosen").value = "";
    if (file) take(file);
  });
  for (const one of document.querySelectorAll("dialog .close")) one.addEventListener("click", () => one.closest("dialog")?.close());
  addEventListener("dragover", (event) => {
    event.preventDefault();
    document.body.classList.add("over");
  });
  addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) document.body.classList.remove("over");
  });
  addEventListener("drop", (event) => {
    event.preventDefault();
    document.body.classList.remove("over");
    const file = event.dataTransfer?.files[0];
    if (file) take(file);
  });
  if (typeof BroadcastChannel === "function") {
    channel = new BroadcastChannel("hangflat");
    channel.onmessage = ({ data }) => {
      if (data.hello === state.mark) {
        note(say("another page"), true);
        if (!data.back) channel?.postMessage({ hello: state.mark, back: true });
      }
      if (data.saved === state.mark) note(say("changed file"));
    };
  }
  greet();
}
