// Answers: the quick ones at once, one after another; the slow ones when the set-up has rested, dropped when it moves.
// @ts-check
import { ask, isLost } from "./line.js";
import { button, get, make, momentSize, say } from "./page_words.js";
import { isFaulty, labelOf, showFacts, told } from "./form.js";
import { ghost, known, momentWords, showDiver, showMoment, showMotion, showPin } from "./diver.js";
import { moved, replaced, state } from "./set_up.js";

const WAIT = 1200; // ms without a change before slow answers are asked for
const STALE = ["freeze", "fit", "fit-drawing", "advice", "knees", "weighing", "sure", "difference", "people"];
/** @type {any} */
let held = null;
/** @type {any} */
let pinned = null;
let busy = false;
let slow = false; // whether the program works in the background for this page
/** @type {any} */
let waiting;

const quick = (/** @type {string} */ what, /** @type {any} */ more = {}) => ask("answer", { what, document: state.setUp, mark: state.mark, ...more });
const fresh = (/** @type {string} */ id) => get(id).classList.remove("stale");

/** The set-up has moved: ask anew. */
export async function work() {
  clearTimeout(waiting);
  for (const id of STALE) get(id).classList.add("stale");
  if (slow) {
    slow = false;
    ask("drop");
  }
  if (busy) return;
  busy = true;
  for (let mine = -1; mine !== state.turn; ) {
    mine = state.turn;
    const answer = await quick("flat");
    if (!answer || answer.dropped) break;
    get("held-back").hidden = !answer.problems;
    if (answer.problems) {
      told(answer.problems, !held);
      await showSaved();
      continue;
    }
    told([]);
    showFlat(answer);
    for (const [what, show, box] of /** @type {[string, (found: any) => void, string][]} */ ([
      ["view", showDiver, ""],
      ["facts", showTaken, ""],
      ["posture", showPosture, "knees"],
      ["fit", showFit, "fit"],
      ["let go", showFreeze, "freeze"],
    ])) {
      if (mine !== state.turn) break;
      const found = await quick(what, what === "view" ? { known: known() } : {});
      if (!found || found.dropped) break;
      if (mine !== state.turn) break;
      if (!found.problems) show(found);
      else if (box) showWhyNot(box, found.problems);
    }
  }
  busy = false;
  const mine = state.turn;
  waiting = setTimeout(() => later(mine), WAIT);
}

/** In the place of an answer that there is none. @param {string} box @param {any[]} problems */
function showWhyNot(box, problems) {
  fresh(box);
  const text = problems.map((p) => p.message).join("  ");
  get(box).replaceChildren(make(get(box).tagName === "UL" ? "li" : get(box).tagName === "DL" ? "dt" : "span", { textContent: text }));
}

/** The page was opened on a set-up that cannot be built: until it can, the diver as the file has it. */
async function showSaved() {
  if (held) return;
  for (const [what, show] of /** @type {[string, (found: any) => void][]} */ ([
    ["flat", showFlat],
    ["view", showDiver],
  ])) {
    const found = await quick(what, { document: state.saved, known: known(), aside: true });
    if (!found || found.problems || found.dropped) return;
    show(found);
  }
}

/** What takes longer, the shortest first. @param {number} mine */
async function later(mine) {
  if (mine !== state.turn || isFaulty() || isLost()) return;
  if (pinned && !(await background("compared", mine, "difference", showCompared, { pinned: pinned.document }))) return;
  if (!(await background("weighing", mine, "weighing", showWeighing))) return;
  if (!(await background("fit drawing", mine, "fit-drawing", showFitDrawing))) return;
  if (state.setUp.plate?.file && !(await people())) return;
  if (!(await background("sure", mine, "sure", showSure))) return;
  await background("advice", mine, "advice", showAdvice);
}

/**
 * One slow answer with its progress, in the box of that name; says whether to go on.
 * @param {string} what @param {number} mine @param {string} box @param {(found: any) => void} show @param {any} [more]
 */
export async function background(what, mine, box, show, more = {}) {
  const ticket = Math.random().toString(36).slice(2);
  const bar = make("progress", { max: 1 });
  bar.setAttribute("aria-label", say("looking"));
  let stopped = false;
  const halt = button(say("stop"), () => {
    stopped = true;
    slow = false;
    ask("drop");
  });
  fresh(box);
  get(box).replaceChildren(make("p", { className: "working" }, `${say("looking")} `, bar, halt));
  slow = true;
  const look = setInterval(async () => {
    const { share } = (await ask("share", { ticket })) ?? {};
    if (typeof share === "number") bar.value = share;
  }, 500);
  const found = await ask("work", { what, document: state.setUp, mark: state.mark, ticket, more });
  clearInterval(look);
  if (mine !== state.turn) return false;
  slow = false;
  if (!found || found.problems || found.dropped) {
    const why = found?.problems ? found.problems.map((/** @type {any} */ p) => p.message).join("  ") : say("stopped");
    const again = button(say("work it out"), () => background(what, state.turn, box, show, more));
    get(box).replaceChildren(make("p", { textContent: why }), again);
    return !stopped && !!found?.problems;
  }
  show(found);
  return true;
}

/** @param {any} answer */
function showFlat(answer) {
  held = answer;
  showMoment(answer);
  fresh("sentence");
  get("sentence").textContent = answer.sentence;
  get("caution").textContent = answer.caution;
  get("estimated").textContent = answer.estimated.length ? say("estimated list", { names: answer.estimated.join(", ") }) : "";
  get("notes").replaceChildren(...answer.notes.map((/** @type {string} */ n) => make("li", { textContent: n })));
  get("notes-box").hidden = !answer.notes.length;
  fill(get("numbers"), answer.numbers);
  get("items").tBodies[0].replaceChildren(
    ...answer.items.map((/** @type {any} */ i) => make("tr", {}, make("th", { scope: "row", textContent: i.name }), make("td", { textContent: i.words }))),
  );
  compare();
}

/** @param {any} found */
function showTaken(found) {
  showFacts(found.facts);
  get("plate-box").hidden = !found.plate;
  if (!found.plate) return;
  get("plate-picture").innerHTML = found.plate.picture; // made by the program of numbers alone
  get("plate-name").textContent = found.plate.file;
  fill(get("plate-lines"), found.plate.rows);
  get("plate-asks").textContent = found.plate.flat ? say("asks bends") : "";
}

/** @param {any} posture */
function showPosture(posture) {
  fresh("knees");
  get("sentence").textContent = posture.sentence;
  get("knees").textContent = posture.knees ?? "";
  get("gauge").setAttribute("aria-label", posture.sentence);
}

/** @param {any} fit */
function showFit(fit) {
  fresh("fit");
  const rows = fit.verdicts.filter((/** @type {any} */ v) => v.passes !== null);
  rows.sort((/** @type {any} */ a, /** @type {any} */ b) => Number(a.passes) - Number(b.passes));
  get("fit").replaceChildren(
    ...rows.map((/** @type {any} */ v) => {
      const text = say(v.passes ? "passes" : "fails", { subject: v.subject, sentence: v.sentence });
      const sign = make("span", { className: "sign", textContent: v.passes ? "✓ " : "✗ " });
      sign.setAttribute("aria-hidden", "true");
      return make("li", { className: v.passes ? "" : "fails", title: v.sentence }, sign, text);
    }),
    ...(rows.length ? [] : [make("li", { textContent: fit.why ?? say("nothing to judge") })]),
  );
  get("people-ask").hidden = !rows.length;
}

let drawn = ""; // address of the drawing that is shown

/** @param {any} found */
function showFitDrawing(found) {
  URL.revokeObjectURL(drawn);
  get("fit-drawing").replaceChildren();
  if (!found.drawing) return;
  drawn = URL.createObjectURL(new Blob([found.drawing], { type: "image/svg+xml" }));
  get("fit-drawing").append(make("img", { src: drawn, alt: say("fit drawing") }));
}

/** Whom the plate fits, counted. */
const people = () =>
  background("people", state.turn, "people", (found) => get("people").replaceChildren(...found.rows.map((/** @type {string} */ row) => make("p", { textContent: row }))));

/** @param {any} go */
function showFreeze(go) {
  fresh("freeze");
  fill(get("freeze"), go.freeze);
  if (go.motion) showMotion(go.motion);
}

/** @param {any} found */
function showWeighing(found) {
  get("weighing").replaceChildren(...found.said.map((/** @type {string} */ one) => make("p", { textContent: one })), inWords(found.text));
}

/** @param {any} found */
function showSure(found) {
  const band = say("how sure", { low: momentWords(found.low), high: momentWords(found.high) });
  get("sure").replaceChildren(make("p", { textContent: band }), inWords(found.text));
}

/** @param {any} found */
function showAdvice(found) {
  const shown = [];
  if (found.best) shown.push(change(found.best, true));
  for (const one of found.singles) shown.push(change(one, false));
  get("advice").replaceChildren(...(shown.length ? shown : [make("p", { className: "none", textContent: say("nothing betters") })]));
}

/** @param {any} one @param {boolean} best */
function change(one, best) {
  const words = say(best ? "best" : "change", { what: one.words.join("; "), moment: one.moment });
  const act = button(say("do it"), async () => {
    const answer = await ask("apply", { document: state.setUp, settings: one.settings });
    if (answer?.document) replaced(answer.document);
  });
  act.setAttribute("aria-label", `${say("do it")}: ${one.words.join("; ")}`);
  return make("div", { className: "change" }, make("p", { textContent: words, title: one.notes.join(" ") }), act);
}

/** @param {any} found */
function showCompared(found) {
  const rows = found.said.map((/** @type {string[]} */ [key, first, second]) => make("li", { textContent: say("pinned value", { key: labelOf(key), before: first, after: second }) }));
  rows.push(...found.effects.map((/** @type {string[]} */ [table, effect]) => make("li", { textContent: say("pinned effect", { table, effect }) })));
  get("difference").replaceChildren(make("ul", {}, ...rows), inWords(found.text));
}

/** @param {any} text */
const inWords = (text) => {
  const words = make("pre", { textContent: text, tabIndex: 0 });
  words.setAttribute("aria-label", say("all words"));
  return make("details", {}, make("summary", { textContent: say("all words") }), words);
};

/** @param {any} list @param {[string, string][]} rows */
const fill = (list, rows) =>
  list.replaceChildren(...rows.flatMap(([name, value]) => [make("dt", { textContent: name }), make("dd", { textContent: value })]));

function compare() {
  get("pin").textContent = say(pinned ? "unpin" : "pin");
  get("pin-box").hidden = !pinned;
  showPin(pinned ? pinned.moment : null);
  if (!pinned) return;
  const by = held.moment - pinned.moment;
  get("further").textContent =
    Math.abs(by) < 0.05 ? say("pinned same") : say(by > 0 ? "further up" : "further down", { ...momentSize(by), moment: momentWords(pinned.moment) });
}

export function prepareAnswers() {
  get("pin").addEventListener("click", () => {
    pinned = pinned === null && held ? { moment: held.moment, document: structuredClone(state.setUp) } : null;
    ghost(pinned !== null);
    get("difference").replaceChildren();
    compare();
    work();
  });
  get("people-ask").addEventListener("click", () => {
    clearTimeout(waiting);
    people();
  });
}

/** In another language or other units: what was worked out is told anew. */
export function toldAnew() {
  get("pin").textContent = say(pinned ? "unpin" : "pin");
  for (const id of ["people", "difference", "advice", "sure", "weighing"]) get(id).replaceChildren();
  moved(false); // a question that is under way asks again
}
