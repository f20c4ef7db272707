// What is set up: the raw tables of a scenario, with undo and redo, kept for this page until it is saved.
// @ts-check
import { note, say } from "./page_words.js";

export const state = {
  /** @type {any} */ setUp: {},
  /** @type {any} */ saved: {},
  /** @type {any[]} */ groups: [],
  mark: "",
  file: "",
  base: "",
  turn: 0, // of the set-up: answers to an earlier one are dropped
};
const before = /** @type {any[]} */ ([]);
const after = /** @type {any[]} */ ([]);
/** @type {(sliding: boolean) => void} */
let heard = () => {};

/** @param {(sliding: boolean) => void} listener */
export const whenMoved = (listener) => (heard = listener);
export const canUndo = () => before.length > 0;
export const canRedo = () => after.length > 0;
export const isSaved = () => JSON.stringify(state.setUp) === JSON.stringify(state.saved);

/** Take over what the program says of an open file. @param {any} begun @param {boolean} [fresh] nothing kept counts */
export function begin(begun, fresh = false) {
  Object.assign(state, { saved: begun.document, setUp: begun.document, mark: begun.mark, file: begun.file, base: begun.base });
  before.length = after.length = 0;
  const kept = fresh ? null : recall(`set-up ${state.mark}`);
  const other = kept?.document ?? (fresh ? null : begun.draft);
  if (other && JSON.stringify(other) !== JSON.stringify(state.saved)) {
    before.push(state.saved);
    state.setUp = other;
    if (!kept) note(say("unsaved draft"), true);
    else if (kept.base !== begun.base) note(say("changed file"));
    state.base = kept?.base ?? begun.base;
  }
  keep("mark", state.mark);
}

/** It was written. @param {any} begun */
export function written(begun) {
  if (JSON.stringify(begun.document) !== JSON.stringify(state.setUp)) before.push(state.setUp);
  Object.assign(state, { saved: begun.document, setUp: begun.document, mark: begun.mark, file: begun.file, base: begun.base });
  keep("mark", state.mark);
  remember();
}

const steps = (/** @type {string} */ key) => key.split(".").map((s) => (/^\d+$/.test(s) ? Number(s) : s));
const plain = (/** @type {string} */ s) => s.toLowerCase().replace(/[_-]+/g, " ").trim();

/** The name by which a table has a key: measures and joints may be written with other joins. @param {any} node @param {any} step */
function own(node, step) {
  if (typeof step === "number" || node === null || typeof node !== "object" || step in node) return step;
  return Object.keys(node).find((k) => plain(k) === plain(step)) ?? step;
}

/** What is written at a dotted key. @param {string} key */
export function valueAt(key) {
  let node = state.setUp;
  for (const step of steps(key)) {
    if (typeof node === "string") return step === "catalogue" || step === "name" ? node : undefined;
    if (node === undefined || node === null) return undefined;
    node = node[own(node, step)];
  }
  return node;
}

/** Put a value at a dotted key, or take it away. @param {any} root @param {string} key @param {any} value */
export function put(root, key, value) {
  const path = steps(key);
  const last = /** @type {any} */ (path.pop());
  let node = root;
  for (const step of path) {
    const name = own(node, step);
    if (typeof node[name] === "string") node[name] = node[name] === "none" ? {} : { [step === "pose" ? "name" : "catalogue"]: node[name] };
    if (value === undefined && node[name] === undefined) return;
    node = node[name] ??= {};
  }
  const name = own(node, last);
  if (value === undefined) delete node[name];
  else node[name] = value;
}

/** @param {(copy: any) => void} change */
export function changed(change) {
  const copy = structuredClone(state.setUp);
  change(copy);
  if (JSON.stringify(copy) === JSON.stringify(state.setUp)) return;
  before.push(state.setUp);
  after.length = 0;
  state.setUp = copy;
  moved(false);
}

/** Another whole set-up, which can be undone. @param {any} document */
export function replaced(document) {
  changed((copy) => {
    for (const key of Object.keys(copy)) delete copy[key];
    Object.assign(copy, structuredClone(document));
  });
}

/** A value that is being slid or dragged: many moves, one step to undo. */
export function sliding() {
  let start = /** @type {any} */ (null);
  return {
    /** @param {(copy: any) => void} change */
    move(change) {
      start ??= state.setUp;
      const copy = structuredClone(state.setUp);
      change(copy);
      state.setUp = copy;
      moved(true);
    },
    done() {
      if (!start) return;
      before.push(start);
      after.length = 0;
      start = null;
      moved(false);
    },
  };
}

export const undo = () => step(before, after);
export const redo = () => step(after, before);

/** @param {any[]} from @param {any[]} to */
function step(from, to) {
  if (!from.length) return;
  to.push(state.setUp);
  state.setUp = from.pop();
  moved(false);
}

/** @param {boolean} slid */
export function moved(slid) {
  state.turn += 1;
  remember();
  heard(slid);
}

function remember() {
  if (isSaved()) keep(`set-up ${state.mark}`, null);
  else keep(`set-up ${state.mark}`, { document: state.setUp, base: state.base });
}

/** @param {string} name @param {any} value */
export function keep(name, value) {
  try {
    if (value === null) sessionStorage.removeItem(name);
    else sessionStorage.setItem(name, JSON.stringify(value));
  } catch {
    note(say("not kept"));
  }
}

/** @param {string} name */
export function recall(name) {
  try {
    return JSON.parse(sessionStorage.getItem(name) ?? "null");
  } catch {
    return null;
  }
}
