// The fasteners of a part: where each is, its moves, its specification, and new rows.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { label, t } from "../words.js";
import { Facts, factsOf, torqueDetails, yesOrNo } from "../pieces/facts.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { AboutFasteners, BesideKeyFact, BesideThreadFact, BoltLengths } from "../pieces/fastener_words.js";
import { Section, Stepper, Text, Tiles } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { GroupForm, newGroup } from "../pieces/group_form.js";
import { useActing } from "../pieces/live.js";
import { groupWords } from "../pieces/show.js";
import { NewEachTime, WhyUsed } from "../pieces/used_again.js";
import { GroupState, SpecificationWords } from "./back_group.js";

const facts = (choices, group) => factsOf({
  count: { count: 500 }, thread: { beside: BesideThreadFact, of: { group } }, thread_confirmed: { options: yesOrNo() }, length_millimetres: { measure: "mm" },
  head: { options: choices.heads }, key: { beside: BesideKeyFact, of: { group } }, grade: {}, finish: { options: choices.finishes }, sits: {}, washers: {}, into: { options: choices.into },
  engagement_millimetres: { measure: "mm" }, outside_engine: { options: yesOrNo() }, grams_each: { units: choices.mass_units }, size: {}, replace_each_time: { options: choices.new_each_time },
  note: { lines: true }, ...torqueDetails(choices),
});

const where = (place) => (place.where === "bag" ? (place.label ? t("in bag {label}", place) : t("out, in no bag yet")) : label(place.where));

export function Group({ strip, part, group, choices, name: partName, struck }) {
  const name = t("{what}", { what: group.called });
  const disputed = Object.values(group.fields).some((field) => field.disputed);
  return html`<div role="group" class=${`block ${group.done ? "done" : "open"}`} aria-label=${name}>
    <h3>${groupWords(group.count, name)}</h3>
    ${group.fields.sits?.value && html`<p>${group.fields.sits.value}</p>`}
    <${GroupState} group=${group} />
    <${NewEachTime} of=${group.new_each_time} />
    <ul>${group.places.map((place) => html`<li key=${place.where + place.bag}>${t("{count} {where}", { count: place.count, where: where(place) })}</li>`)}</ul>
    <${SpecificationWords} specification=${group.specification} />
    <p class="row"><a class="button" href=${route.torque(strip, group.group)} aria-label=${t("Torque card: {what}", { what: group.called })}>${t("Torque card")}</a>
      <a class="button" href=${route.record(strip, group.group)} aria-label=${t("The whole record: {what}", { what: group.called })}>${t("The whole record")}</a></p>
    ${!struck && html`<${Drafted} form=${Move} stem=${`move/${strip}/${part}/${group.group}`} about=${partName} ...${{ strip, group }} />`}
    <${Section} light open=${disputed} title=${t("All about these")}><${Read} ...${{ strip, group }} />
      <${Facts} strip=${strip} thing=${group.group} type="group" fields=${group.fields} facts=${facts(choices, group)} /><//>
  </div>`;
}

/** How the core reads what was written of these, and what it offers: a thread for the key, a length for a grip. */
function Read({ strip, group }) {
  const acting = useActing();
  const form = useForm({ grip: "" }, []);
  const { fields } = group;
  const value = (name) => fields[name]?.value;
  const write = (values) => acting.run("change", {
    strip, thing: group.group, type: "group", values,
    saw: Object.fromEntries(Object.keys(values).filter((name) => fields[name]).map((name) => [name, fields[name].heads.map((head) => head.entry)])),
  });
  const row = { thread: value("thread"), into: value("into"), engagement: value("engagement_millimetres") };
  return html`<${Problems} problems=${acting.problems} />
    <${AboutFasteners} about=${group.about} onThread=${({ thread, head }) => write(value("head") ? { thread } : { thread, head })} />
    ${group.about.thread?.read && html`<${Section} light title=${t("How long a bolt")}><${BoltLengths} grip=${form.bind("grip")} row=${row}
      onPick=${(length) => write({ length_millimetres: length })} /><//>`}`;
}

/** How many are likely meant: from stock what the part lacks, from a place all that is there. */
const likely = (group, from) => (from.where === "stock" ? group.out || null : from.count);

const keyOf = (place) => `${place.where} ${place.bag ?? ""}`;

function Move({ strip, group, begun }) {
  const acting = useActing();
  const sources = [
    ...(group.on > 0 ? [{ where: "machine", bag: null, count: group.on }] : []),
    ...group.places.filter((place) => place.where !== "stock" && place.count > 0),
    { where: "stock", bag: null, count: 500 },
  ];
  // Until a count is typed, the likely one stands in the field.
  const start = { count: undefined, from: keyOf(sources[0]), to: null, to_bag_label: "", why: "" };
  const form = useDrafted(begun, start, acting);
  const from = sources.find((place) => keyOf(place) === form.form.from) ?? sources[0];
  const count = form.form.count === undefined ? likely(group, from) : form.form.count;
  async function save(event) {
    event.preventDefault();
    const { to, to_bag_label: bag, why } = form.form;
    const answer = await form.act("move", { strip, group: group.group, count, from: from.where, from_bag: from.bag, to, to_bag_label: bag, why });
    if (answer) form.begin({ ...form.latest.current, count: undefined, to: null, why: "" });
  }
  const named = (place) => [keyOf(place), place.where === "stock" ? t("new from stock") : t("{count} {where}", { count: place.count, where: where(place) })];
  return html`<${Section} light title=${t("Move some")} open=${acting.problems.length > 0 || Boolean(begun.draft)}><form class="stack close" onSubmit=${save}>
    <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished move is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <${Tiles} ...${form.bind("from")} value=${keyOf(from)} onValue=${(key) => form.fill({ from: key, count: undefined })} label=${t("Where from")} options=${sources.map(named)} />
    <${Stepper} ...${form.bind("count")} value=${count} label=${t("How many")} high=${from.count} />
    <${Tiles} ...${form.bind("to")} label=${t("Where to")} options=${["bag", "spares", "scrapped", "lost", "machine"]} />
    ${form.form.to === "bag" && html`<${Text} ...${form.bind("to_bag_label")} label=${t("Which bag")} big />`}
    ${form.form.to === "machine" && html`<${WhyUsed} bind=${form.bind} problems=${acting.problems} />`}
    <button type="submit" disabled=${acting.busy}>${t("Move them")}</button></form><//>`;
}

/** A new row of fasteners for a part that is logged. */
export const AddGroup = (props) => html`<${Drafted} form=${NewGroup} stem=${`fasteners/${props.strip}/${props.part}`} about=${props.name} ...${props} />`;

function NewGroup({ strip, part, choices, bag, off, begun }) {
  const acting = useActing();
  const [adding, setAdding] = useState(Boolean(begun.draft));
  const start = () => ({ groups: [newGroup()], bag_label: bag ?? "" });
  const form = useDrafted(begun, start(), acting);
  const leave = () => { form.begin(start()); setAdding(false); };
  async function save(event) {
    event.preventDefault();
    if (await form.act("add", { strip, part, ...form.latest.current })) leave();
  }
  if (!adding) return html`<button type="button" onClick=${() => setAdding(true)}>${t("Add fasteners")}</button>`;
  return html`<form class="stack close" onSubmit=${save}>
    <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished fasteners are here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
    <${GroupForm} bind=${form.bind} strip=${strip} at="groups.0." number=${1} choices=${choices} onRemove=${() => { leave(); form.drop(); }} />
    ${off && html`<${Text} ...${form.bind("bag_label")} label=${t("Into which bag")} />`}
    <button type="submit" disabled=${acting.busy}>${t("Save")}</button></form>`;
}
