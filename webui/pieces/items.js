// Things still to do: writing them down, putting them right and closing them.

import { html } from "../vendor/preact.js";
import { dayOf, isolated, t } from "../words.js";
import { ask } from "./ask.js";
import { Facts, factsOf } from "./facts.js";
import { Section, Text, Tiles } from "./fields.js";
import { Problems, useForm } from "./form.js";
import { useActing } from "./live.js";
import { LongList } from "./long_list.js";
import { TakePhotos, Thumb } from "./photos.js";
import { byWhom } from "./show.js";

/** The fields of one thing still to do. */
export const ItemFields = ({ bind, at, choices }) => html`
  <${Tiles} ...${bind(`${at}what`)} label=${t("What it needs")} options=${choices.item_kinds} />
  <${Text} ...${bind(`${at}text`)} label=${t("In words")} />`;

/** Who does something, before what and by which day. */
export const PlanFields = ({ bind, choices }) => html`
  <${Tiles} ...${bind("before")} label=${t("Before what")} options=${choices.before_what} />
  <${Text} ...${bind("for_whom")} label=${t("Who does it")} maxlength="60" />
  <${Text} ...${bind("due_on")} label=${t("By which day")} type="date" />`;

const openFacts = (choices) => factsOf({
  what: { options: choices.item_kinds }, text: {}, before: { options: choices.before_what }, for_whom: {}, due_on: { date: true }, cost: { figure: true }, currency: {},
});
const closedFacts = () => factsOf({ paid: { figure: true }, cost: { figure: true }, currency: {}, closed: { options: [[true, t("Yes")], [false, t("No")]] }, closed_how: {} });
const disputed = (item) => Object.values(item.fields).some((field) => field.disputed);

/** Who, by when and at what cost, in one line; `before` only where nothing around it says so. */
export function planWords({ for_whom: who, before, due_on: day, cost, currency }, named = false) {
  return [named && before && t("{before}", { before: { label: before } }), who, day && t("by {day}", { day: dayOf(day) }),
    cost && (currency ? t("{cost} {currency}", { cost, currency }) : t("costs {cost}", { cost }))].filter(Boolean).map(isolated).join(" · ");
}

/** What there is to do in words; where it is about fasteners, how many of them it is about now. */
export const itemWords = (item) => t("{what}: {text}", { what: { label: item.what }, text: item.now ?? item.text });

/** The part that it is for, and that it was struck. */
const ofPart = (item) => (item.part_struck ? t("{part} (struck)", { part: item.part_name ?? t("Part without a name") }) : item.part_name);

function AddPicture({ strip, thing }) {
  const acting = useActing();
  return html`<${Problems} problems=${acting.problems} /><${TakePhotos} onPhoto=${(photo) => acting.inTurn("photo", { strip, thing, photo })} />`;
}

/** A thing to do, open or done, to be put right where it stands. */
function Item({ strip, item, facts, plan, place, children }) {
  return html`<li class="line" ...${place}>
    <p class=${`mark ${item.closed ? "done" : "wait"}`}>${item.closed ? t("Done") : t("To do")}</p>
    <p>${itemWords(item)}</p>
    ${item.now && html`<p class="quiet">${t("Written down then: {text}", item)}</p>`}
    ${plan && html`<p class="quiet">${plan}</p>`}
    ${item.photos.length > 0 && html`<ul class="thumbs">${item.photos.map((photo) => html`<li key=${photo.entry}><${Thumb} sha256=${photo.sha256} caption=${photo.caption ?? item.text} /><span class="quiet">${byWhom(photo)}</span></li>`)}</ul>`}
    ${children}
    <${Section} light late open=${disputed(item)} title=${t("Put it right, picture")}><${Facts} strip=${strip} thing=${item.item} type="item" fields=${item.fields} facts=${facts} />
      <${AddPicture} strip=${strip} thing=${item.item} /><//></li>`;
}

/** An open thing to do, with the way to close it. `named`: before what, and of which part, is said with it. */
export function OpenItem({ strip, item, choices, acting, named, place }) {
  async function close() {
    const how = await ask({ title: t("Done?"), text: item.text, input: t("How was it done?"), action: t("Done") });
    if (how) acting.run("close_item", { strip, item: item.item, how });
  }
  const plan = [named === "part" && ofPart(item), planWords(item, Boolean(named))].filter(Boolean).map(isolated).join(" · ");
  return html`<${Item} facts=${openFacts(choices)} ...${{ strip, item, plan, place }}>
    <div><button type="button" disabled=${acting.busy} aria-label=${t("Done: {text}", item)} onClick=${close}>${t("Done")}</button></div><//>`;
}

/** A thing that is done, with how, by whom and when. */
export function DoneItem({ strip, item, named, place }) {
  const { closing } = item;
  const plan = [named && ofPart(item), item.closed_how, closing?.who && byWhom(closing)].filter(Boolean).map(isolated).join(" · ");
  return html`<${Item} facts=${closedFacts()} ...${{ strip, item, plan, place }} />`;
}

/** Writing something down, with all that may be said of it. */
export function NewItem({ strip, part, choices, acting }) {
  const start = { what: "make", text: "", before: "riding", for_whom: "", due_on: "", cost: "", currency: "" };
  const form = useForm(start, acting.problems);
  async function save(event) {
    event.preventDefault();
    if (await acting.run("item", { strip, part: part ?? null, ...form.form })) form.fill({ ...start, what: form.form.what });
  }
  return html`<details class="light"><summary>${t("Write down something to do")}</summary>
    <form class="inside" onSubmit=${save}><${ItemFields} bind=${form.bind} at="" choices=${choices} />
    <${PlanFields} bind=${form.bind} choices=${choices} />
    <div class="pair"><${Text} ...${form.bind("cost")} label=${t("Cost")} figure /><${Text} ...${form.bind("currency")} label=${t("Currency, three letters")} maxlength="3" /></div>
    <button type="submit" disabled=${acting.busy}>${t("Save")}</button></form></details>`;
}

/** What a part often needs: one tap writes it down, to be done before riding. */
const oftenNeeded = () => [["make", t("Needs a bracket")], ["buy", t("Needs a new one")], ["secure", t("Secure a hose or lead")], ["move", t("Needs another place")]];

function OneTap({ strip, part, acting }) {
  return html`<div class="tiles" role="group" aria-label=${t("Write down with one tap")}>${oftenNeeded().map(([what, text]) => html`<button type="button" key=${what} disabled=${acting.busy}
    onClick=${() => acting.run("item", { strip, part, what, text, before: "riding" })}>${text}</button>`)}</div>`;
}

/** @param {{strip: string, part?: string, struck?: boolean, items: object[], choices: object}} props */
export function Items({ strip, part, struck, items, choices }) {
  const acting = useActing();
  const [open, closed] = [items.filter((item) => !item.closed), items.filter((item) => item.closed)];
  if (!choices) return null;
  const named = part ? "before" : "part";
  const list = (some, draw) => html`<${LongList} rows=${some} keyOf=${(item) => item.item} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${draw} />`;
  return html`<div class="stack close"><${Problems} problems=${acting.problems} />
    ${open.length === 0 && html`<p class="quiet">${t("Nothing open.")}</p>`}
    ${list(open, (item, place) => html`<${OpenItem} key=${item.item} ...${{ strip, item, choices, acting, named, place }} />`)}
    ${closed.length > 0 && html`<${Section} light title=${t("Done already")} says=${t("{count} done", { count: closed.length })}>
      ${list(closed, (item, place) => html`<${DoneItem} key=${item.item} named=${!part} ...${{ strip, item, place }} />`)}<//>`}
    ${part && !struck && html`<${OneTap} ...${{ strip, part, acting }} />`}
    <${NewItem} ...${{ strip, part, choices, acting }} />
  </div>`;
}
