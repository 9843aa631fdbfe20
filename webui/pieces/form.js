// A form as one plain object, its fields named by paths as the core names them in problems.

import { html, useEffect, useId, useRef, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { fieldNames } from "./field_names.js";

const get = (form, path) => path.split(".").reduce((within, key) => within?.[key], form);

function put(within, keys, value) {
  const [key, ...rest] = keys;
  const copy = Array.isArray(within) ? [...within] : { ...within };
  copy[key] = rest.length ? put(copy[key] ?? {}, rest, value) : value;
  return copy;
}

/**
 * @param {object} initial the form as it begins
 * @param {Array} [problems] what the core said of it
 * @param {(form: object) => void} [onChange] told of each change, for the draft
 */
export function useForm(initial, problems, onChange) {
  const scope = useId();
  const [form, setForm] = useState(initial);
  const latest = useRef(form);
  const replace = (next) => { latest.current = next; setForm(next); };
  const fill = (values) => { replace({ ...latest.current, ...values }); onChange?.(latest.current); };
  const set = (path, value) => {
    replace(put(latest.current, path.split("."), value));
    onChange?.(latest.current);
  };
  // What was said of a value no longer holds once the field has another.
  const said = useRef({ problems, of: form });
  if (said.current.problems !== problems) said.current = { problems, of: form };
  const still = (field) => (get(form, field) === get(said.current.of, field) ? problems : problems?.filter((each) => each.field !== field));
  const bind = (field) => ({ field, id: `${scope}-${field}`, value: get(form, field), onValue: (value) => set(field, value), problems: still(field) });
  const add = (list, row) => set(list, [...(get(latest.current, list) ?? []), row]);
  const remove = (list, index) => set(list, get(latest.current, list).filter((unused, each) => each !== index));
  return { form, latest, set, fill, bind, add, remove, replace };
}

function leadTo(field, within) {
  const target = within.querySelector(`[data-field="${CSS.escape(field)}"]`);
  for (let around = target?.parentElement; around; around = around.parentElement) {
    if (around.tagName === "DETAILS") around.open = true;
  }
  target?.scrollIntoView({ block: "center" });
  target?.focus();
}

/** What hinders saving, or with `asks` answering, at the top and in words; takes the focus when it comes. */
export function Problems({ problems, asks = false }) {
  const top = useRef(null);
  useEffect(() => { if (problems.length) top.current?.focus(); }, [problems]);
  if (!problems.length) return null;
  const names = fieldNames();
  const said = (problem) => {
    const name = names[problem.field.split(".").at(-1)];
    return name ? t("{field}: {problem}", { field: name, problem }) : t(problem);
  };
  const line = (problem) => (problem.field
    ? html`<li><button type="button" class="plain" onClick=${() => leadTo(problem.field, top.current.closest("form") ?? document)}>${said(problem)}</button></li>`
    : html`<li>${t(problem.text, problem.values)}</li>`);
  return html`<div class="notice bad" role="alert" tabindex="-1" ref=${top}>
    ${problems[0].code !== "KeptAsDraft" && html`<p>${!asks && html`<strong>${t("Not saved yet.")}</strong> `}${t("What you typed is still here. Please look at this:")}</p>`}
    <ul>${problems.map(line)}</ul>
  </div>`;
}
