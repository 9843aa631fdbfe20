// Taking off: one part as it comes off the machine. Only its name is needed.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Cautions, PlaceCaution } from "../pieces/cautions.js";
import { HereAgain, useDrafted } from "../pieces/drafted.js";
import { Problems } from "../pieces/form.js";
import { Frame, Waiting } from "../pieces/frame.js";
import { claimDraft } from "../pieces/form_draft.js";
import { dropUnnamedPhotos, orSay, putSetting, setting, strips, useActing, useFresh, useLists, useView } from "../pieces/live.js";
import { NameField } from "../pieces/name_field.js";
import { asReading, keptFor, keptOf } from "../pieces/reading_form.js";
import { partToChoose } from "../pieces/show.js";
import { AsForeseen, ForeseenList, formOf, leftOf } from "./take_off_foreseen.js";
import { Fasteners, More, Pictures, Todo, Weight, WhereItWas } from "./take_off_parts.js";

const empty = () => ({
  name: "", place: null, side: null, pieces: 1, foreseen: null, came_in: null, outcome: null, outcome_done: false, replacement: "",
  bag_label: "", note: "", groups: [], readings: [], photos: [], items: [],
});

/** The form as the core takes it, without what its choices hide. */
function asForm(form, strip) {
  return { ...form, strip, replacement: form.outcome === "swapped" ? form.replacement : "", readings: form.readings.map(asReading) };
}

const said = (row, names) => names.some((name) => String(row[name] ?? "").trim());

/** Rows that were opened and left as they were say nothing, and are not saved. */
const withoutUntouched = (form) => ({
  ...form,
  groups: form.groups.filter((row) => said(row, ["count", "thread", "length", "key", "grade", "sits", "washers", "note", "torque", "torque_page", "finish", "engagement", "grams_each"])),
  readings: form.readings.filter((row) => said(row, ["figure", "figure_high", "source", "plus_minus", "tare", "litres", "plus_minus_litres"])),
  items: form.items.filter((row) => said(row, ["text"])),
});

/** What the phone's storage alone knows, so that the form waits for nothing else. */
async function beginFrom(strip) {
  const [claimed, lines, reading, bag] = await Promise.all([claimDraft(`take_off/${strip}`), strips(), setting("last_reading"), setting("last_bag")]);
  return { ...claimed, line: lines.find((line) => line.strip === strip && line.name), kept: { ...keptFor(reading, strip), bag } };
}

export function TakeOff({ strip }) {
  const view = useView(strip, "strip");
  const gear = useView(strip, "gear");
  const foreseen = useView(strip, "foreseen");
  const lists = useLists();
  const begun = useFresh(() => beginFrom(strip), [strip], () => false);
  const asked = [begun, lists, view];
  const trouble = begun.trouble ?? view.trouble ?? (lists.data ? null : lists.trouble);
  const waiting = { trouble, retry: () => { for (const each of asked) if (each.trouble) each.retry(); } };
  const known = view.trouble?.code === "no_such_strip" ? null : (view.data ?? begun.data?.line);
  if (!known || !lists.data || !begun.data) {
    return html`<${Frame} title=${t("Take off")} strip=${strip} here="take_off"><${Waiting} ...${waiting} /><//>`;
  }
  return html`<${Filling} key=${begun.data.key} ...${{ strip, view: known, choices: lists.data, begun: begun.data, scales: gear.data?.scales ?? [], seen: foreseen.data, waiting }} />`;
}

function Filling({ strip, view, choices, begun, scales, seen, waiting }) {
  const acting = useActing();
  const form = useDrafted(begun, empty(), acting);
  const [kept, setKept] = useState(begun.kept);
  const [saved, setSaved] = useState(null);

  async function save(event) {
    event.preventDefault();
    const filled = withoutUntouched(form.latest.current);
    form.replace(filled);
    const answer = await form.act("take_off", asForm(filled, strip), () => {});
    if (!answer) return;
    const last = filled.readings.at(-1);
    const likely = { ...(last ? keptOf(last, strip) : kept), bag: filled.bag_label || kept.bag };
    setKept(likely);
    orSay(putSetting("last_reading", keptOf(likely, strip)));
    orSay(putSetting("last_bag", likely.bag ?? ""));
    setSaved({ part: answer.part, waits: answer.waits, name: filled.name, side: filled.side, foreseen: filled.foreseen });
    form.begin(empty());
  }
  async function startAfresh() {
    const { photos } = form.latest.current;
    if (await form.afresh()) dropped(photos);
  }
  // Only once the draft says so too: a picture that it names is kept.
  const dropped = (photos) => orSay(dropUnnamedPhotos(photos.map((photo) => photo.sha256)));
  async function removePhoto(index) {
    const photo = form.latest.current.photos[index];
    form.remove("photos", index);
    await form.settled();
    dropped([photo]);
  }
  const asForeseen = (filled) => {
    setSaved(null);
    form.fill(filled);
    // The list that was tapped on is gone, and may have been long.
    requestAnimationFrame(() => document.querySelector("#as-foreseen")?.focus());
  };
  const next = () => {
    setSaved(null);
    requestAnimationFrame(() => document.querySelector("#take-off [data-field=name]")?.focus());
  };
  const pick = ({ name, place, side, pieces }) => form.fill({ name, place, side, pieces });
  const rows = { form, choices, kept };
  // Nothing is said yet of the part that comes off now: what is foreseen may be it.
  const open = !form.form.name && !form.form.foreseen && form.form.groups.length === 0;
  const as = seen?.parts.find((row) => row.foreseen === form.form.foreseen);
  const foot = saved ? null : html`<button type="submit" form="take-off" class="main" disabled=${acting.busy}>${acting.busy ? t("Saving…") : t("Save")}</button>`;

  return html`<${Frame} title=${t("Take off")} strip=${strip} of=${view.name} here="take_off" foot=${foot}>
    ${waiting.trouble && html`<${Waiting} ...${waiting} />`}
    <${Cautions} strip=${strip} spell=${view.spell?.spell} when="off" />
    ${saved ? html`<${Saved} ...${{ strip, saved, setSaved, next, seen, asForeseen }} />` : html`<form id="take-off" class="stack" onSubmit=${save} inert=${acting.busy} novalidate autocomplete="off">
      <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished part is here again, from {when}.", gaps)} onAfresh=${startAfresh} />
      <${Problems} problems=${acting.problems} />
      ${open ? html`<${ForeseenList} ...${{ strip, seen }} onPick=${asForeseen} />` : html`<${AsForeseen} row=${as} />`}
      <${NameField} bind=${form.bind} choices=${choices} onPick=${pick} />
      <${PlaceCaution} caution=${choices.place_cautions[form.form.place]} />
      <${Pictures} form=${form} onRemove=${removePhoto} />
      <${WhereItWas} ...${rows} />
      <div class="stack">
        <${Fasteners} ...${rows} strip=${strip} />
        <${Weight} ...${rows} ...${{ strip, scales, as }} />
        <${More} ...${rows} />
        <${Todo} ...${rows} />
      </div>
      ${!form.back && form.form.name && html`<button type="button" class="plain" onClick=${startAfresh}>${t("Start afresh")}</button>`}
    </form>`}
  <//>`;
}

/** What was saved, and the two likeliest next steps. */
function Saved({ strip, saved, setSaved, next, seen, asForeseen }) {
  const acting = useActing();
  const told = useRef(null);
  useEffect(() => { told.current.focus(); }, [saved.part]);
  async function sameAgain() {
    const answer = await acting.run("same_again", { strip, part: saved.part });
    if (answer) setSaved({ part: answer.part, name: saved.name, side: saved.side === "left" ? "right" : "left", again: true });
  }
  const [row] = leftOf(seen, saved.foreseen);
  const nextForeseen = async () => { const form = await formOf(strip, row.foreseen); if (form) asForeseen(form); };
  const nextPart = html`${row && html`<button type="button" class="main" onClick=${nextForeseen}>${t("Next, as foreseen: {name}", { name: partToChoose(row) })}</button>`}
    <button type="button" class=${row ? "" : "main"} onClick=${next}>${t("Next part")}</button>`;
  if (saved.waits) {
    return html`<div class="stack"><div class="notice" role="status" tabindex="-1" ref=${told}><h2>${t("Kept: {name}", { name: saved.name })}</h2><p>${t(saved.waits)}</p></div>${nextPart}</div>`;
  }
  return html`<div class="stack">
    <div class="notice good" role="status" tabindex="-1" ref=${told}><h2>${saved.again ? t("Saved for the other side: {name}", { name: saved.name }) : t("Saved: {name}", { name: saved.name })}</h2>
      <p>${t("It is in this phone’s log.")}</p></div>
    <${Problems} problems=${acting.problems} />
    ${nextPart}
    ${["left", "right"].includes(saved.side) && !saved.again && html`<button type="button" disabled=${acting.busy} onClick=${sameAgain}>${t("Same again, other side")}</button>`}
    <a class="button" href=${route.part(strip, saved.part)}>${t("Look at it")}</a>
  </div>`;
}
