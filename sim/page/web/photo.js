// A photo or a frame of a film: hip, shoulder and a line are clicked; the picture stays in this page, and is not kept.
// @ts-check
import { ask } from "./line.js";
import { get, make, note, number, say } from "./page_words.js";
import { background } from "./answers.js";
import { state } from "./set_up.js";

const NAMES = ["hip", "shoulder", "line start", "line end"];
/** @type {any} */
let shown = null; // an image or a video
/** @type {number[][]} */
let points = [];
let cross = [0, 0];
/** @type {any} */
let found = null;
/** @type {any} */
let freeze = null; // a freeze test that two frames make
/** @type {any[]} */
let frames = [];
let address = "";

/** @param {File} file */
export const isPicture = (file) => /^(image|video)\//.test(file.type);

/** @param {File} file */
export function takePicture(file) {
  forget();
  address = URL.createObjectURL(file);
  const film = file.type.startsWith("video/");
  shown = film ? make("video", { muted: true, playsInline: true, preload: "auto" }) : new Image();
  shown.addEventListener(film ? "loadeddata" : "load", () => {
    get("film").hidden = !film;
    if (film) get("film-time").max = shown.duration;
    if (!get("photo-box").open) get("photo-box").showModal();
    cross = [Math.round(size()[0] / 2), Math.round(size()[1] / 2)];
    draw();
    next();
  });
  shown.addEventListener("seeked", draw);
  shown.addEventListener("error", () => note(say("refused picture", { name: file.name })));
  shown.src = address;
}

function forget() {
  if (address) URL.revokeObjectURL(address);
  address = "";
  shown = null;
  get("photo").width = get("photo").height = 1; // nothing of the picture stays
  points = [];
  frames = [];
  found = freeze = null;
  get("angle").textContent = get("turned").textContent = get("turn-why").textContent = "";
  get("seen-answer").replaceChildren();
  get("ask-seen").disabled = get("ask-calibration").disabled = get("keep-frame").disabled = true;
}

const size = () => [shown.videoWidth || shown.naturalWidth, shown.videoHeight || shown.naturalHeight];

function draw() {
  const canvas = get("photo");
  [canvas.width, canvas.height] = size();
  const pen = canvas.getContext("2d");
  pen.drawImage(shown, 0, 0);
  const fine = Math.max(canvas.width / 400, 1);
  pen.lineWidth = fine;
  const dot = (/** @type {number[]} */ [x, y], /** @type {string} */ colour) => {
    for (const [wide, paint] of /** @type {[number, string][]} */ ([[3 * fine, "#000"], [1.4 * fine, colour]])) {
      pen.lineWidth = wide;
      pen.strokeStyle = paint;
      pen.beginPath();
      pen.arc(x, y, 5 * fine, 0, 7);
      pen.stroke();
    }
  };
  const join = (/** @type {number} */ a, /** @type {number} */ b, /** @type {string} */ colour) => {
    if (points.length <= b) return;
    for (const [wide, paint] of /** @type {[number, string][]} */ ([[3.4 * fine, "#000"], [1.6 * fine, colour]])) {
      pen.lineWidth = wide;
      pen.strokeStyle = paint;
      pen.beginPath();
      pen.moveTo(points[a][0], points[a][1]);
      pen.lineTo(points[b][0], points[b][1]);
      pen.stroke();
    }
  };
  join(0, 1, "#ffd34d");
  join(2, 3, "#6cc0f2");
  points.forEach((p, i) => dot(p, i < 2 ? "#ffd34d" : "#6cc0f2"));
  if (document.activeElement === canvas) {
    pen.lineWidth = fine;
    for (const paint of ["#000", "#fff"]) {
      pen.strokeStyle = paint;
      pen.setLineDash(paint === "#fff" ? [4 * fine, 4 * fine] : []);
      pen.strokeRect(cross[0] - 8 * fine, cross[1] - 8 * fine, 16 * fine, 16 * fine);
    }
    pen.setLineDash([]);
  }
}

function next() {
  get("photo-step").textContent = points.length < 4 ? say("next point", { name: say(NAMES[points.length]) }) : say("points done");
}

/** @param {number[]} point */
function add(point) {
  if (points.length === 4) points = [];
  points.push(point);
  draw();
  next();
  if (points.length === 4) measure();
}

async function measure() {
  const [hip, shoulder, ...line] = points;
  const answer = await ask("angle", { hip, shoulder, line, kind: get("line-kind").value });
  if (!answer) return;
  found = answer.problems ? null : answer;
  get("ask-seen").disabled = get("keep-frame").disabled = !found;
  get("angle").textContent = answer.problems
    ? answer.problems[0].message
    : say("angle found", { angle: answer.said, slip: number(answer.slip, 0) });
}

export function preparePhoto() {
  const canvas = get("photo");
  canvas.addEventListener("click", (/** @type {MouseEvent} */ event) => {
    const box = canvas.getBoundingClientRect();
    add([((event.clientX - box.left) / box.width) * canvas.width, ((event.clientY - box.top) / box.height) * canvas.height]);
  });
  canvas.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
    const far = (event.shiftKey ? 10 : 1) * Math.max(canvas.width / 400, 1);
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (way) cross = [Math.min(Math.max(cross[0] + far * way[0], 0), canvas.width), Math.min(Math.max(cross[1] + far * way[1], 0), canvas.height)];
    else if (event.key === "Enter" || event.key === " ") add([...cross]);
    else return;
    event.preventDefault();
    draw();
  });
  canvas.addEventListener("focus", () => shown && draw());
  canvas.addEventListener("blur", () => shown && draw());
  get("line-kind").addEventListener("change", () => points.length === 4 && measure());
  get("film-time").addEventListener("input", () => {
    points = [];
    shown.currentTime = Number(get("film-time").value);
    next();
  });
  get("keep-frame").addEventListener("click", async () => {
    frames.push({ time: Number(get("film-time").value), pitch: found.pitch, said: found.said });
    if (frames.length < 2) return (get("turned").textContent = say("one frame", { first: found.said }));
    const [first, last] = frames.slice(-2);
    get("turned").textContent = say("film turn", { first: first.said, last: last.said, seconds: number(Math.abs(last.time - first.time), 1) });
    freeze = (await ask("turn", { frames }))?.freeze ?? null;
    get("ask-calibration").disabled = !freeze;
    get("turn-why").textContent = freeze ? "" : say("no freeze");
  });
  get("ask-seen").addEventListener("click", () => {
    const sight = `${found.typed}; ${get("doing").value}`;
    background("seen", state.turn, "seen-answer", showText, { sight, tests: freeze ? [freeze.typed] : [] });
  });
  get("ask-calibration").addEventListener("click", () => background("calibration", state.turn, "seen-answer", showCalibration, freeze));
  get("photo-open").addEventListener("click", () => {
    forget();
    get("photo-file").click();
  });
  get("photo-file").addEventListener("change", () => {
    const [file] = get("photo-file").files;
    get("photo-file").value = "";
    if (file && isPicture(file)) takePicture(file);
    else if (file) note(say("unknown drop", { name: file.name }));
  });
  get("photo-box").addEventListener("close", forget);
}

/** @param {any} answer */
function showText(answer) {
  const words = make("pre", { textContent: answer.text, tabIndex: 0 });
  words.setAttribute("aria-label", say("ask seen"));
  get("seen-answer").replaceChildren(words);
}

/** @param {any} answer */
function showCalibration(answer) {
  showText(answer);
  const file = make("pre", { textContent: answer.measured, tabIndex: 0 });
  file.setAttribute("aria-label", say("measured file"));
  get("seen-answer").append(make("p", { textContent: say("measured file") }), file, make("code", { textContent: answer.command }));
}
