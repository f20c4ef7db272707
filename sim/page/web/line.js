// Asking the program. When it does not answer, the page says so, keeps what was set up, and goes on when it is back.
// @ts-check
import { note, reader, say } from "./page_words.js";

const AGAIN = 1500; // ms between two tries
let lost = false;
/** @type {() => void} */
let onBack = () => {};
/** @type {() => string} */
let fileName = () => "";

/** @param {() => string} name @param {() => void} back */
export function whenBack(name, back) {
  fileName = name;
  onBack = back;
}

/** As the reader is told; before the program has said how, as it likes. */
const spoken = () => (reader.language ? { language: reader.language, units: reader.units } : {});

/** What the program answers, or null where it does not. @param {string} path @param {any} [body] */
export async function ask(path, body = {}) {
  try {
    const answer = await fetch(path, { method: "POST", body: JSON.stringify({ ...spoken(), ...body }) });
    return await answer.json();
  } catch {
    gone();
    return null;
  }
}

/** The whole response, for what is no JSON. @param {string} path @param {any} body */
export async function fetched(path, body) {
  try {
    return await fetch(path, { method: "POST", body });
  } catch {
    gone();
    return null;
  }
}

function gone() {
  if (lost) return;
  lost = true;
  note(say("lost", { file: fileName() }));
  const again = async () => {
    try {
      const answer = await fetch("start", { method: "POST", body: "{}" });
      if (!answer.ok) throw new Error();
    } catch {
      setTimeout(again, AGAIN);
      return;
    }
    lost = false;
    note(say("back"), true);
    onBack();
  };
  setTimeout(again, AGAIN);
}

export const isLost = () => lost;
