// The second check of a group: how it stands, the short form of the person who looks, the owner's decision to do without.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { person } from "../shop.js";
import { isolated, t } from "../words.js";
import { ask } from "../pieces/ask.js";
import { Stepper, Text, Tiles } from "../pieces/fields.js";
import { Problems, useForm } from "../pieces/form.js";
import { useSending } from "../pieces/frame.js";
import { useActing } from "../pieces/live.js";
import { byWhom } from "../pieces/show.js";

// No name and no answer is a blank.
const OTHER = " ";

/** How far the second check of a group is, who looked last, and what stands against it. */
export function SecondCheckState({ check, needed }) {
  const { wanted, checked, of, last, waived, notice } = check;
  if (!last && !(wanted && of > 0)) return waived && html`<${Waived} ...${waived} />`;
  return html`${wanted && of > 0 && !waived && html`<p class=${`mark ${needed ? "" : "done"}`}>${needed ? t("Second check: {checked} of {of}, wanted", check) : t("Second check: {checked} of {of}", check)}</p>`}
    ${!wanted && checked > 0 && html`<p class="mark done">${t("Second check: {checked} of {of}", check)}</p>`}
    ${waived && html`<${Waived} ...${waived} />`}
    ${notice && html`<p class="mark bad">${t(notice)}</p>`}
    ${last && html`<p class="quiet">${[last.found === "right" && t("Looked at: {looked_at}", last), byWhom(last)].filter(Boolean).map(isolated).join(" · ")}</p>`}`;
}

const Waived = (waived) => html`<p class="mark wait">${t("No second check, as decided: {why}", waived)}</p><p class="quiet">${byWhom(waived)}</p>`;

/** The button to look, the form behind it, and for an owner the way to do without. */
export function SecondCheck({ strip, group, people }) {
  const [open, setOpen] = useState(false);
  const { open: ready } = group.second_check;
  const parts = { strip, group };
  return html`${ready > 0 && (open ? html`<${Look} key=${ready} ...${parts} people=${people} onDone=${() => setOpen(false)} />`
    : html`<button type="button" class="main" aria-label=${t("Second check: {what}", { what: group.called })} onClick=${() => setOpen(true)}>${t("Second check")}</button>`)}
    ${group.needs.includes("second_check") && html`<${DoWithout} ...${parts} />`}`;
}

/** What is ordinarily looked at; another answer is typed. */
const ordinary = (tightened) => (tightened ? [t("Torque and mark"), t("Torque, mark, hose and lead clear"), t("Torque, mark, pin or wire in place")]
  : [t("All in, and seated"), t("All in, hose and lead clear")]);

function Look({ strip, group, people, onDone }) {
  const acting = useActing();
  const { workers, open } = group.second_check;
  const others = [...new Set([person(), ...people])].filter((name) => name && !workers.includes(name));
  const looks = ordinary(group.is_tightened);
  const form = useForm({ count: open, who: others[0] ?? OTHER, name: "", looked_at: null, words: "" }, acting.problems);
  const { form: typed, bind } = form;
  const top = useRef(null);
  useEffect(() => { top.current.focus(); }, []);
  async function save(found) {
    const who = (typed.who === OTHER ? typed.name : typed.who).trim();
    if (!who) {
      acting.setProblems([{ code: "missing", field: "who", text: "Say who is looking.", values: {} }]);
      return;
    }
    const looked_at = typed.looked_at === OTHER ? typed.words : typed.looked_at;
    if (await acting.run("second_check", { strip, group: group.group, count: typed.count, looked_at, found, who })) onDone();
  }
  const right = (event) => { event.preventDefault(); save("right"); };
  return html`<form class="stack close" ref=${top} tabindex="-1" onSubmit=${right} novalidate aria-label=${t("Second check: {what}", { what: group.called })}>
    <${Problems} problems=${acting.problems} />
    ${workers.length > 0 && html`<p>${t("Worked on by {workers}. Another person looks.", { workers })}</p>`}
    ${others.length > 0 && html`<${Tiles} ...${bind("who")} wide label=${t("Who is looking")} options=${[...others.map((name) => [name, name]), [OTHER, t("Somebody else")]]} />`}
    ${typed.who === OTHER && html`<${Text} ...${bind("name")} field="who" problems=${acting.problems} label=${others.length ? t("Name") : t("Who is looking")} hint=${t("For this look alone: this phone’s person stays.")} maxlength="60" />`}
    <${Stepper} ...${bind("count")} label=${t("Looked at")} high=${open} />
    <${Tiles} ...${bind("looked_at")} wide label=${t("What was looked at")} options=${[...looks.map((words) => [words, words]), [OTHER, t("Something else")]]} />
    ${typed.looked_at === OTHER && html`<${Text} ...${bind("words")} field="looked_at" problems=${acting.problems} label=${t("In words")} maxlength="400" />`}
    <button type="submit" class="main" disabled=${acting.busy}>${t("{count} right", { count: typed.count ?? 0 })}</button>
    <div class="row"><button type="button" class="grow" disabled=${acting.busy} onClick=${() => save("not_right")}>${t("{count} not right", { count: typed.count ?? 0 })}</button>
      <button type="button" class="grow" onClick=${onDone}>${t("Leave it")}</button></div></form>`;
}

/** Doing without is the owner's word: offered where the PC's list says that this phone is an owner's. */
function DoWithout({ strip, group }) {
  const acting = useActing();
  const { pairing } = useSending();
  if (pairing?.role !== "owner") return null;
  async function decide() {
    const why = await ask({
      title: t("Do without a second check?"), input: t("Why"), action: t("Do without"),
      text: t("Your name and the reason stay in sight. It ends when somebody finds these not right, or when you strike it on the part’s page."),
    });
    if (why) acting.run("waive", { strip, group: group.group, why });
  }
  return html`<${Problems} problems=${acting.problems} />
    <div><button type="button" class="plain" disabled=${acting.busy} onClick=${decide}>${t("Do without a second check")}</button></div>`;
}
