// The fields of every form: a label, the thing to fill in, and what is wrong with it, at one place.
// A field takes {field, id, value, onValue, problems}, as useForm().bind("groups.0.count") gives them.

import { html, useState } from "../vendor/preact.js";
import { label, t } from "../words.js";
import { Icon } from "./icons.js";
import { useReadBack } from "./read_back.js";

/** The word for a choice, as it stands by itself; `field` as for `label`. */
export function word(code, field) {
  const words = label(code, field);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const wrongWith = (field, problems) => (problems ?? []).find((problem) => problem.field === field);

/** What the thing to fill in carries: its id, its name for a problem to lead to, its hint, how it is read, its problem. */
function attributes({ field, id = field, problems, hint, readBack }) {
  const wrong = wrongWith(field, problems);
  const ids = [hint && `${id}-hint`, readBack && `${id}-read`, wrong && `${id}-wrong`].filter(Boolean).join(" ");
  return { id, "data-field": field, "aria-invalid": wrong ? "true" : undefined, "aria-describedby": ids || undefined };
}

// The read-back comes while a hand types, so it stands below and moves nothing from under it.
function Around({ field, id = field, label: words, hint, readBack, problems, group, children }) {
  const wrong = wrongWith(field, problems);
  const inside = html`${hint && html`<p class="hint" id=${`${id}-hint`}>${hint}</p>`}
    ${children}
    ${readBack && html`<p class="hint" id=${`${id}-read`}>${readBack}</p>`}
    ${wrong && html`<p class="wrong" id=${`${id}-wrong`}>${t(wrong.text, wrong.values)}</p>`}`;
  return group
    ? html`<fieldset class="field" data-field=${field} tabindex="-1"><legend>${words}</legend>${inside}</fieldset>`
    : html`<div class="field"><label for=${id}>${words}</label>${inside}</div>`;
}

/** A line or, with `lines`, several lines of text. `figure` brings up the phone's keys for numbers. */
export function Text({ field, id, label: words, hint, readBack, value, onValue, problems, lines, figure, big, ...rest }) {
  const of = { field, id, label: words, hint, readBack, problems };
  const given = {
    ...attributes(of), value: value ?? "", onInput: (event) => onValue(event.currentTarget.value), autocomplete: "off",
    class: big ? "big" : "", ...rest,
  };
  return html`<${Around} ...${of}>
    ${lines ? html`<textarea ...${given}></textarea>` : html`<input type="text" inputmode=${figure ? "decimal" : undefined} ...${given} />`}
  <//>`;
}

/**
 * A figure in one unit, named by its label, or typed with its own: 25, 25 mm, 1/2 in. The keys are those for all of that.
 * `several` are torques with a space between, like 10 20.
 */
export function Measure({ unit, several, ...rest }) {
  return html`<${Text} inputmode="text" ...${rest} readBack=${useReadBack(rest.value, unit, several)} />`;
}

const paired = (choices) => choices.map((each) => (Array.isArray(each) ? each : [each, word(each)]));
const options = (choices, chosen) => paired(choices).map(([code, words]) => html`<option key=${code} value=${code} selected=${code === chosen}>${words}</option>`);

/** A figure with its unit; one typed with a unit of its own is read with that, and said back. */
export function Figure({ unit, units, onUnit, label: words, value, onValue, big, ...rest }) {
  const of = { label: words, readBack: useReadBack(value, unit), ...rest };
  return html`<${Around} ...${of}>
    <div class="joined">
      <input ...${attributes(of)} type="text" inputmode="decimal" autocomplete="off" class=${big ? "big" : ""} value=${value ?? ""}
        onInput=${(event) => onValue(event.currentTarget.value)} />
      <select aria-label=${t("Unit of: {label}", { label: words })} onChange=${(event) => onUnit(event.currentTarget.value)}>
        ${units.map((each) => html`<option key=${each} value=${each} selected=${each === unit}>${label(each)}</option>`)}
      </select>
    </div>
  <//>`;
}

/** One of a long list, by the phone's own wheel of choices. `options`: codes, or [value, words]; `none` names no choice, null where there must be one. */
export function Pick({ value, onValue, options: codes, none = t("Not said"), ...of }) {
  return html`<${Around} ...${of}>
    <select ...${attributes(of)} onChange=${(event) => onValue(event.currentTarget.value || null)}>
      ${none !== null && html`<option value="" selected=${!value}>${none}</option>`}${options(codes, value)}
    </select>
  <//>`;
}

/** One of a few, all in sight. `options`: codes, or [value, words]; `wide` gives each a line of its own. */
export function Tiles({ value, onValue, options: choices, wide, ...of }) {
  return html`<${Around} group ...${of}>
    <div class=${`tiles ${wide ? "wide" : ""}`}>${paired(choices).map(([code, words]) => html`<label class="tile" key=${code}>
      <input type="radio" name=${of.id ?? of.field} value=${code} checked=${(value ?? "") === code} onChange=${() => onValue(code === "" ? null : code)} />
      <span>${words}</span></label>`)}</div>
  <//>`;
}

/** Yes or no. */
export function Tick({ field, id = field, label: words, value, onValue }) {
  return html`<label class="tile"><input type="checkbox" id=${id} checked=${!!value} onChange=${(event) => onValue(event.currentTarget.checked)} /><span>${words}</span></label>`;
}

const counted = (text) => (/^\d+$/.test(String(text ?? "").trim()) ? Number(text) : null);

/** A count by two large buttons, or typed. What is typed and is no count goes on as typed, for the core to refuse. */
export function Stepper({ value, onValue, low = 1, high = 500, ...of }) {
  const now = counted(value);
  const step = (by) => onValue(Math.min(high, Math.max(low, now === null ? low : now + by)));
  const typed = (text) => onValue(counted(text) ?? text);
  return html`<${Around} ...${of}>
    <div class="stepper">
      <button type="button" aria-label=${t("One less: {label}", { label: of.label })} disabled=${now !== null && now <= low} onClick=${() => step(-1)}><${Icon} name="minus" /></button>
      <input ...${attributes(of)} class="big" type="text" inputmode="numeric" autocomplete="off" value=${value ?? ""}
        onInput=${(event) => typed(event.currentTarget.value)} />
      <button type="button" aria-label=${t("One more: {label}", { label: of.label })} disabled=${now !== null && now >= high} onClick=${() => step(1)}><${Icon} name="plus" /></button>
    </div>
  <//>`;
}

/** A ruled section that a tap opens; `says` tells what is in it while it is shut, `late` draws that only once it is open. */
export function Section({ title, says, open, light, late, onOpen, children }) {
  const [touched, setTouched] = useState(false);
  const toggled = (event) => {
    if (event.currentTarget.open && !touched) { setTouched(true); onOpen?.(); }
  };
  return html`<details class=${light ? "light" : ""} open=${open} onToggle=${toggled}>
    <summary>${title}${says && html`<span class="quiet">${says}</span>`}</summary>
    <div class="inside">${(!late || touched || open) && children}</div>
  </details>`;
}
