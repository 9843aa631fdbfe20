// The spells of work: who is there, since when; begun, and each ended with what is missing asked about.

import { html, useState } from "../vendor/preact.js";
import { person } from "../shop.js";
import { t, when } from "../words.js";
import { Section, Text } from "./fields.js";
import { Problems, useForm } from "./form.js";
import { useActing, useView } from "./live.js";
import { timeWords } from "./time_words.js";

const names = (text) => text.split(",");
const MINUTE_MS = 60_000;

/** A moment as a field for date and time has it, in this phone's own time. */
const asTyped = (ms) => new Date(ms - new Date(ms).getTimezoneOffset() * MINUTE_MS).toISOString().slice(0, 16);

/** @param {{strip: string, view: object}} props; `view` is the view "strip" */
export function Spell({ strip, view }) {
  const [now] = useState(() => Date.now());
  const spells = useView(strip, "spells", { now_ms: now });
  const seen = spells.data;
  if (view.spell && seen?.running) {
    return html`${seen.open.length > 1 && html`<p class="notice">${t("{count} spells of work have no end: phones that were apart each began one. End each of them.", { count: seen.open.length })}</p>`}
      ${seen.open.map((running) => html`<${Running} key=${running.spell} ...${{ strip, running, seen }} />`)}`;
  }
  if (view.spell) return html`<section class="block open"><p>${sinceWords(view.spell)}</p></section>`;
  return html`<${Begin} strip=${strip} last=${view.spells.at(-1)} />`;
}

function Begin({ strip, last }) {
  const acting = useActing();
  const [people, setPeople] = useState(null);
  const begin = async (event) => {
    event.preventDefault();
    if (await acting.run("spell", { strip, act: "begins", people: names(people ?? person()) })) setPeople(null);
  };
  return html`<${Section} title=${t("Begin a spell of work")} says=${last ? t("the last ended {when}", { when: when(last.to_ms ?? last.from_ms) }) : t("none has begun yet")}>
    <form class="stack close" onSubmit=${begin}><${Problems} problems=${acting.problems} />
    <${Text} field="people" label=${t("Who is there")} hint=${t("Names, with commas between them.")} value=${people ?? person()} onValue=${setPeople} />
    <button type="submit" disabled=${acting.busy}>${t("Begin the spell")}</button></form><//>`;
}

const sinceWords = ({ since_ms: since, people }) => `${t("A spell of work runs since {when}.", { when: when(since) })}${people.length > 0 ? ` ${t("There: {people}.", { people })}` : ""}`;

function Running({ strip, running, seen }) {
  const [ending, setEnding] = useState(false);
  return html`<section class="block open"><p>${sinceWords(running)}</p>
    ${running.left_open && html`<p class="mark bad">${t("It runs for {time} already. Was its end forgotten?", { time: timeWords(running.minutes) })}</p>`}
    ${ending ? html`<${End} ...${{ strip, running, seen }} onLeave=${() => setEnding(false)} />`
      : html`<div><button type="button" aria-label=${seen.open.length > 1 ? t("End the spell of {people}, begun {when}", { people: running.people, when: when(running.since_ms) }) : null} onClick=${() => setEnding(true)}>${t("End the spell")}</button></div>`}</section>`;
}

function End({ strip, running, seen, onLeave }) {
  const acting = useActing();
  const form = useForm({ people: running.people.join(", "), missing: "", next: "", ended: "", ended_ms: null }, acting.problems);
  const { ended, ended_ms, missing, next, people } = form.form;
  const end = async (event) => {
    event.preventDefault();
    const more = { people: names(people), missing, next, ended_at_ms: ended_ms ?? (ended || null) };
    if (await acting.run("spell", { strip, act: "ends", spell: running.spell, ...more })) onLeave();
  };
  const asksWhen = running.left_open || acting.problems.some((problem) => problem.field === "ended_at_ms");
  return html`<form class="stack" onSubmit=${end}><${Problems} problems=${acting.problems} />
    ${seen.asked.length > 0 && html`<${Asked} asked=${seen.asked} /><${Text} ...${form.bind("missing")} label=${t("What is known of it")} hint=${t("It is kept with the spell, and stays open until it is put right.")} lines maxlength="400" />`}
    ${asksWhen && html`<${When} ...${{ form, running, value: ended }} />`}
    <${Text} ...${form.bind("people")} label=${t("Who was there")} hint=${t("Names, with commas between them.")} />
    <${Text} ...${form.bind("next")} label=${t("What comes next")} hint=${t("For whoever goes on: it stands first on the page for handing over.")} lines maxlength="400" />
    <div class="row"><button type="submit" class="main grow" disabled=${acting.busy}>${t("End it now")}</button><button type="button" class="grow" onClick=${onLeave}>${t("Leave it")}</button></div></form>`;
}

/** What the count says is missing before everybody goes. */
const Asked = ({ asked }) => html`<section class="notice bad" aria-label=${t("Missing")}><h3>${t("Before you go: this is missing")}</h3>
  <ul class="pointed">${asked.map((each) => html`<li key=${[each.code, each.group, each.bag].join(" ")}>${t(each.text)}</li>`)}</ul></section>`;

/** When it ended, where that was forgotten: at the last entry, as typed, or only now. */
function When({ form, running, value }) {
  const put = (ms) => form.fill({ ended: asTyped(ms), ended_ms: ms });
  const typed = (text) => form.fill({ ended: text, ended_ms: Number.isNaN(Date.parse(text)) ? null : Date.parse(text) });
  return html`<div class="stack close"><${Text} ...${form.bind("ended_at_ms")} type="datetime-local" label=${t("When it ended")} value=${value} onValue=${typed} />
    <div class="row">${running.last_written_ms && html`<button type="button" onClick=${() => put(running.last_written_ms)}>${t("At the last entry, {when}", { when: when(running.last_written_ms) })}</button>`}
      <button type="button" onClick=${() => put(Date.now())}>${t("Only now")}</button></div></div>`;
}
