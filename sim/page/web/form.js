// The form: each field with what it is taken to be, where that is from, and what is wrong with it.
// @ts-check
import { button, get, make, note, reader, say } from "./page_words.js";
import { changed, put, sliding, state, valueAt } from "./set_up.js";

/** @typedef {{ input: any, said: any, about: any, mark: any, field: any, slide: any }} Shown */
const shown = /** @type {Map<string, Shown>} */ (new Map());
/** @type {Record<string, any>} */
let facts = {};
const open = new Set(["Person", "Suit", "Cylinders and wing", "Lead"]);
let faulty = false; // whether the note tells of a problem

export const isFaulty = () => faulty || [...shown.values()].some((one) => one.input.getAttribute("aria-invalid") === "true");

/** Another entry of the catalogue: what was written beside the old one goes, but for what suits any. */
function choose(/** @type {any} */ field, /** @type {string} */ key, /** @type {string} */ value) {
  changed((copy) => {
    const path = key.split(".");
    if (path.pop() !== "catalogue") return put(copy, key, value === "" ? undefined : value);
    const table = path.join(".");
    if (value === "none") return put(copy, table, "none");
    const now = valueAt(table);
    const old = typeof now === "object" && now ? now : {};
    const kept = Object.fromEntries(field.keeps.filter((/** @type {string} */ k) => k in old).map((/** @type {string} */ k) => [k, old[k]]));
    put(copy, table, typeof now === "string" && table.includes(".") && !Object.keys(kept).length ? value : { catalogue: value, ...kept });
    if (table === "cylinders" && copy.rebreather && copy.rebreather !== "none") copy.rebreather = "none";
    if (table === "rebreather" && copy.cylinders && copy.cylinders !== "none") copy.cylinders = "none";
  });
}

/** What stands in a field. @param {any} value */
const written = (value) => (value === undefined ? "" : typeof value === "object" ? JSON.stringify(value) : String(value));

/** What a field's text means: lists and numbers are values, all else is text. @param {any} field @param {string} text */
function meant(field, text) {
  const trimmed = text.trim();
  if (trimmed === "") return undefined;
  if (field.kind === "value" || /^[[{]/.test(trimmed)) {
    try {
      return JSON.parse(trimmed);
    } catch {
      return trimmed;
    }
  }
  return trimmed;
}

/** @param {any} field @param {string} key */
function control(field, key) {
  const id = `f-${key.replace(/[^a-z0-9]+/gi, "-")}`;
  const said = make("p", { className: "wrong", id: `${id}-wrong`, hidden: true });
  const about = make("p", { className: "about", id: `${id}-about` });
  const mark = make("span", { className: "guess", textContent: say("estimated"), hidden: true });
  const now = valueAt(key);
  /** @type {any} */
  let input;
  /** @type {any} */
  let slide = null;
  if (field.kind === "choice") {
    input = make("select", { id });
    const choices = [...field.choices];
    const names = new Map(field.choices.map((/** @type {string} */ c, /** @type {number} */ i) => [c, field.named[i]]));
    if (now === undefined || !field.key.endsWith("catalogue")) input.append(make("option", { value: "", textContent: say("as usual") }));
    if (now !== undefined && !choices.includes(now)) choices.unshift(now);
    choices.forEach((choice) => input.append(make("option", { value: choice, textContent: names.get(choice) ?? choice })));
    input.value = now === undefined ? "" : String(now);
    input.addEventListener("change", () => choose(field, key, input.value));
  } else if (field.kind === "switch") {
    input = make("input", { id, type: "checkbox", checked: now === true });
    input.addEventListener("change", () => changed((copy) => put(copy, key, input.checked)));
  } else {
    input = make("input", { id, type: "text", value: written(now), placeholder: field.hint, spellcheck: false });
    input.addEventListener("change", () => changed((copy) => put(copy, key, meant(field, input.value))));
    if (field.slider) slide = slider(field, key, id, input);
  }
  input.setAttribute("aria-describedby", `${about.id} ${said.id}`);
  const label = make("label", { htmlFor: id, textContent: field.label });
  shown.set(key, { input, said, about, mark, field, slide });
  const both = make("div", { className: slide || field.kind !== "text" ? "both" : "both wide" }, input, ...(slide ? [slide] : []));
  const one = make("div", { className: "field" }, make("div", { className: "label" }, label, mark), both, about, said);
  showFact(key);
  return one;
}

/** The range in which a field is slid: in the unit that is written there, else in the user's. @param {any} field @param {string} text */
function rangeOf(field, text) {
  const { other, ...usual } = field.slider;
  const has = (/** @type {any} */ range) => text.trim().endsWith(` ${range.unit}`);
  return other && (has(other) || (reader.units === "imperial" && !has(usual))) ? other : usual;
}

/** Where a value stands on a range: read where its unit is the range's own, else as the program says. @param {any} range @param {string} text @param {any} fact */
function placeOn(range, text, fact) {
  const match = /^\s*(-?[\d.]+)\s*(\S*)\s*$/.exec(text);
  return match && match[2] === range.unit ? Number(match[1]) : fact?.on?.[range.unit];
}

/** @param {any} field @param {string} key @param {string} id @param {any} input */
function slider(field, key, id, input) {
  const one = make("input", { type: "range", id: `${id}-slide` });
  one.setAttribute("aria-label", say("slide", { label: field.label }));
  const dragged = sliding();
  one.addEventListener("input", () => {
    const range = rangeOf(field, input.value);
    input.value = `${one.value} ${range.unit}`;
    one.setAttribute("aria-valuetext", input.value);
    dragged.move((copy) => put(copy, key, input.value));
  });
  one.addEventListener("change", () => dragged.done());
  return one;
}

/** @param {Shown} one @param {any} fact */
function setSlider(one, fact) {
  if (!one.slide || document.activeElement === one.slide) return;
  const text = one.input.value || fact?.value || "";
  const range = rangeOf(one.field, one.input.value);
  Object.assign(one.slide, { min: range.low, max: range.high, step: range.step });
  const at = placeOn(range, text, fact);
  one.slide.classList.toggle("nowhere", at === undefined); // "vented" stands nowhere on a scale of litres
  one.slide.value = at ?? (range.low + range.high) / 2;
  one.slide.setAttribute("aria-valuetext", text || say("not given"));
}

/** @param {string} key */
function showFact(key) {
  const one = shown.get(key);
  if (!one) return;
  const fact = facts[key];
  const taken = fact?.value ?? "";
  const empty = one.input.value === "";
  const lines = [one.field.meaning];
  if (fact?.worked && fact.worked !== taken) lines.push(say("comes to", { value: fact.worked, source: fact.source }));
  else if (taken && taken !== one.input.value) lines.push(fact.source ? say("from", { value: taken, source: fact.source }) : say("taken", { value: taken }));
  else if (fact?.source) lines.push(say("from", { value: taken, source: fact.source }));
  one.about.textContent = lines.filter(Boolean).join("; ");
  if (one.input.type === "text") one.input.placeholder = empty && taken && taken !== "none" ? taken : one.field.hint;
  if (one.input.type === "checkbox" && valueAt(key) === undefined) one.input.checked = taken === "true";
  one.mark.hidden = !(fact?.estimated && valueAt(key) === undefined);
  setSlider(one, fact);
}

/** What each value is taken to be. @param {Record<string, any>} found */
export function showFacts(found) {
  facts = found;
  for (const key of shown.keys()) showFact(key);
}

/** @param {any} group */
function entries(group) {
  const now = valueAt(group.table);
  const list = Array.isArray(now) ? now : [];
  const cards = list.map((/** @type {any} */ entry, /** @type {number} */ i) => {
    const name = typeof entry === "string" ? entry : entry.name ?? entry.catalogue ?? "";
    const fits = (/** @type {any} */ f) => !f.only.length || f.only.includes(typeof entry === "string" ? entry : entry.catalogue);
    const fields = group.fields.filter(fits).map((/** @type {any} */ f) => control(f, `${group.table}.${i}.${f.key}`));
    const id = `out-${group.table.replace(".", "-")}-${i}`;
    const out = button(say("take away"), () =>
      changed((copy) => {
        let node = copy;
        for (const step of group.table.split(".")) node = node[step];
        node.splice(i, 1);
      }), { id });
    out.setAttribute("aria-label", `${say("take away")}: ${name || group.heading} ${i + 1}`);
    const rest = further(group, `${group.table}.${i}.`, `${group.title} ${i}`);
    return make("div", { className: "entry" }, ...fields, ...(rest ? [rest] : []), out);
  });
  const more = button(say("add"), () =>
    changed((copy) => {
      const path = group.table.split(".");
      const last = /** @type {string} */ (path.pop());
      let node = copy;
      for (const step of path) node = node[step] ??= {};
      if (!Array.isArray(node[last])) node[last] = [];
      node[last].push({ ...group.fresh });
    }), { id: `add-${group.table.replace(".", "-")}` });
  more.setAttribute("aria-label", `${say("add")}: ${group.heading}`);
  return [...cards, more];
}

/** All other fields of a group, made when they are first looked at. @param {any} group @param {string} above @param {string} name */
function further(group, above, name) {
  if (!group.more.length) return null;
  const inside = make("div");
  const one = make("details", { className: "more", open: open.has(`${name} +`) }, make("summary", { textContent: say("more", { count: group.more.length }) }), inside);
  const fill = () => {
    if (one.open && !inside.childElementCount) inside.append(...group.more.map((/** @type {any} */ f) => control(f, `${above}${f.key}`)));
  };
  one.addEventListener("toggle", () => {
    if (one.open) open.add(`${name} +`);
    else open.delete(`${name} +`);
    fill();
  });
  fill();
  return one;
}

let drawn = ""; // what the form's layout was made for

/** What the layout depends on: lists, what is chosen, the language; not what is typed. */
function layout() {
  const chosen = (/** @type {any[]} */ fields, /** @type {string} */ above) => fields.filter((f) => f.kind === "choice").map((f) => valueAt(above + f.key) ?? null);
  const groups = state.groups.map((group) => {
    if (group.needs && valueAt(group.needs) === undefined) return null;
    if (!group.table) return chosen([...group.fields, ...group.more], "");
    const list = valueAt(group.table);
    return (Array.isArray(list) ? list : []).map((entry, i) => [entry.name ?? "", ...chosen([...group.fields, ...group.more], `${group.table}.${i}.`)]);
  });
  return JSON.stringify([reader.language, reader.units, state.mark, groups]);
}

/** The form as the set-up is now. Fields stay where they can, so that keys and clicks go on where they were. */
export function drawForm() {
  const now = layout();
  if (now === drawn) {
    for (const [key, one] of shown) {
      const text = written(valueAt(key));
      if (one.field.kind === "switch") one.input.checked = valueAt(key) === true;
      else if (one.input.value !== text) one.input.value = text;
      showFact(key);
    }
    return;
  }
  drawn = now;
  shown.clear();
  const active = document.activeElement?.id;
  const groups = state.groups.filter((group) => !group.needs || valueAt(group.needs) !== undefined);
  get("form").replaceChildren(
    ...groups.map((group) => {
      const fields = group.table ? entries(group) : group.fields.map((/** @type {any} */ f) => control(f, f.key));
      const rest = group.table ? null : further(group, "", group.title);
      const summary = make("summary", { textContent: group.heading, id: `g-${group.title.replace(/\W+/g, "-")}` });
      const one = make("details", { open: open.has(group.title) || !!group.needs }, summary, ...fields, ...(rest ? [rest] : []));
      one.addEventListener("toggle", () => (one.open ? open.add(group.title) : open.delete(group.title)));
      return one;
    }),
  );
  if (active && document.activeElement?.id !== active) get(active)?.focus({ preventScroll: true });
}

/** What a key is called in the form; itself where it has no field. @param {string} key */
export function labelOf(key) {
  for (const group of state.groups)
    for (const field of [...group.fields, ...group.more]) {
      const [, entry, below] = /^(.*?\.\d+)\.(.*)$/.exec(key) ?? [];
      if (group.table ? entry?.startsWith(`${group.table}.`) && below === field.key : field.key === key) return `${group.heading}, ${field.label}`;
    }
  return key;
}

/** Open groups and look at one field of theirs. @param {string[]} titles @param {string} key */
export function lookAt(titles, key) {
  for (const title of titles) open.add(title);
  drawn = "";
  drawForm();
  reveal(key);
  const one = shown.get(key)?.input;
  one?.focus();
  one?.scrollIntoView({ block: "center" });
}

/** Have the field of a key made where it is among those that are shown on demand. @param {string} key */
function reveal(key) {
  if (shown.has(key)) return;
  for (const group of state.groups) {
    const [, above, number, below] = (group.table && /^(.*)\.(\d+)\.(.*)$/.exec(key)) || ["", "", "", key];
    if (above !== group.table || !group.more.some((/** @type {any} */ f) => f.key === below)) continue;
    open.add(group.title).add(`${group.title}${number && ` ${number}`} +`);
    drawn = "";
    drawForm();
  }
}

/** Problems beside their fields; those without a field in the note. @param {any[]} problems @param {boolean} [look] whether to go to the first */
export function told(problems, look = false) {
  for (const { input, said } of shown.values()) {
    input.removeAttribute("aria-invalid");
    said.hidden = true;
  }
  const loose = [];
  for (const { key } of problems) reveal(key);
  for (const { key, message } of problems) {
    const near = shown.get(key) ?? [...shown.entries()].find(([k]) => key && k.startsWith(`${key}.`))?.[1];
    if (!near) {
      loose.push(key ? `${key}: ${message}` : message);
      continue;
    }
    near.input.setAttribute("aria-invalid", "true");
    near.said.textContent = message;
    near.said.hidden = false;
    for (let one = near.input.closest("details"); one; one = one.parentElement.closest("details")) one.open = true;
  }
  if (look) [...shown.values()].find((one) => !one.said.hidden)?.input.scrollIntoView({ block: "center" });
  if (loose.length || faulty) note(loose.join("  "));
  faulty = loose.length > 0;
}
