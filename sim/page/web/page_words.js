// The page's own words, and small ways to make and find elements.
// @ts-check

/** @type {Record<string, string>} */
let table = {};
/** In which language and units the page is told; and its moments: the unit's name, and how many of it are one N m. */
export const reader = { language: "", units: "", moment: { name: "N m", each: 1 } };

/** @param {any} start what the program begins with */
export function speak(start) {
  table = start.words;
  Object.assign(reader, { language: start.language, units: start.units, moment: start.moment });
  document.documentElement.lang = start.language;
  for (const one of document.querySelectorAll("[data-say]")) one.textContent = say(/** @type {any} */ (one).dataset.say);
  for (const one of document.querySelectorAll("[data-label]")) one.setAttribute("aria-label", say(/** @type {any} */ (one).dataset.label));
}

/** A sentence of the table with values put in. @param {string} name @param {Record<string, any>} [values] */
export function say(name, values = {}) {
  return (table[name] ?? name).replace(/\{(\w+)\}/g, (/** @type {string} */ _, /** @type {string} */ key) => String(values[key] ?? ""));
}

/** A number with its digits behind the reader's decimal sign. @param {number} value @param {number} digits */
export const number = (value, digits) =>
  value.toLocaleString(reader.language, { minimumFractionDigits: digits, maximumFractionDigits: digits, useGrouping: false });

/** The size of a moment [N m] in the reader's unit. @param {number} moment */
export const momentSize = (moment) => ({ size: number(Math.abs(moment) * reader.moment.each, 1), unit: reader.moment.name });

export const get = (/** @type {string} */ id) => /** @type {any} */ (document.getElementById(id));

/** @param {string} tag @param {any} [more] @param {any[]} inside */
export function make(tag, more = {}, ...inside) {
  const one = /** @type {any} */ (Object.assign(document.createElement(tag), more));
  one.append(...inside);
  return one;
}

/** A button. @param {string} text @param {() => any} work @param {any} [more] */
export function button(text, work, more = {}) {
  const one = make("button", { type: "button", textContent: text, ...more });
  one.addEventListener("click", work);
  return one;
}

/** @param {string} text @param {boolean} [quiet] whether nothing is wrong */
export function note(text, quiet = false) {
  get("note").textContent = text;
  get("note").classList.toggle("quiet", quiet);
}
