// About the strip-down, its machine, its bags and its spells of work: each thing open to correction.

import { html } from "../vendor/preact.js";
import { t, when } from "../words.js";
import { Facts, factsOf } from "../pieces/facts.js";
import { Problems } from "../pieces/form.js";
import { useActing } from "../pieces/live.js";
import { Bag } from "../pieces/show.js";
import { Strike } from "../pieces/strike.js";

/** Whether two people gave answers that differ for any field. */
export const disputed = (fields) => Object.values(fields).some((field) => field.disputed);

const stripFacts = ({ aim }, units) => factsOf({
  name: { label: t("Name of the strip-down") }, aim_grams: { label: t("Aim: what the machine is to weigh"), units, usual: "kg", mass: aim },
  budget: { figure: true }, budget_currency: {}, planned_hours: { figure: true }, note: { lines: true },
});

const machineFacts = ({ standard }, units) => factsOf({
  name: { label: t("Name of the machine") }, number: {}, standard_grams: { units, usual: "kg", mass: standard }, standard_source: {},
  tank_litres: { figure: true }, note: { lines: true, label: t("Note on the machine") },
});

/** @param {{view: object, choices: object}} props; `view` is the view "strip" */
export function About({ view, choices }) {
  const { strip, machine, spells } = view;
  return html`<h2>${t("The strip-down")}</h2>
    <${Facts} strip=${strip} thing=${strip} type="strip" fields=${view.fields} facts=${stripFacts(view, choices.mass_units)} />
    ${machine && html`<h2>${t("The machine")}</h2>
    <${Facts} strip=${strip} thing=${machine.id} type="machine" fields=${machine.fields} facts=${machineFacts(machine, choices.mass_units)} />`}
    ${spells.length > 0 && html`<h2>${t("Spells of work")}</h2><${Spells} strip=${strip} spells=${spells} />`}`;
}

function Spells({ strip, spells }) {
  const acting = useActing();
  const began = (spell) => (spell.people.length > 0 ? t("Began {when}, there: {people}", { when: when(spell.from_ms), people: spell.people }) : t("Began {when}", { when: when(spell.from_ms) }));
  const line = (entry, text) => html`<div class="spread"><span>${text}</span><${Strike} strip=${strip} entry=${entry} acting=${acting} text=${text} /></div>`;
  return html`<${Problems} problems=${acting.problems} /><ul class="lines">${[...spells].reverse().map((spell) => html`<li class="line" key=${spell.spell}>
    ${line(spell.begins_entry, began(spell))}
    ${spell.ends_entry && line(spell.ends_entry, t("Ended {when}", { when: when(spell.to_ms) }))}</li>`)}</ul>`;
}

/** Every bag: its label, and where it is kept. */
export const Bags = ({ strip, bags }) => html`<ul class="lines">${bags.map((bag) => html`<li class="line" key=${bag.bag}>
  <details class="light" open=${disputed(bag.fields)}><summary><${Bag} label=${bag.label} /><span class="quiet">${bag.kept ?? t("where it is kept is not said")}</span></summary>
    <div class="inside"><${Facts} strip=${strip} thing=${bag.bag} type="bag" fields=${bag.fields} facts=${factsOf({ label: {}, kept: {} })} /></div></details></li>`)}</ul>`;
