// Beginning a strip-down: of a machine that is known already, or of a new one.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { strips, view } from "../shop.js";
import { t, usualUnits } from "../words.js";
import { Drafted, HereAgain, useDrafted } from "../pieces/drafted.js";
import { Figure, Section, Text, Tick, Tiles, word } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { leadOn, useActing, useChoices, useFresh, useSummaries } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";

const NEW = "new";
const noStandard = () => ({ standard: "", standard_unit: usualUnits().heavy, standard_source: "", tank_litres: "" });

/** The machines known on this phone, each with the line of its latest strip-down. */
function known(lines) {
  const latest = new Map();
  for (const line of [...lines].sort((a, b) => (a.at ?? 0) - (b.at ?? 0))) if (line.machine) latest.set(line.machine, line);
  return latest;
}

/** What an earlier strip-down says of its machine, as the form has it: to the gram, where what is shown is rounded. */
async function standardOf(strip) {
  const { machine } = await view(strip, "strip");
  const value = (name) => String(machine.fields[name]?.value ?? "");
  const standard = value("standard_grams");
  return { standard, standard_unit: standard ? "g" : usualUnits().heavy, standard_source: value("standard_source"), tank_litres: value("tank_litres") };
}

/** How the shop does with self-locking nuts, as its latest strip-down here has it; null where nobody said, or while the core starts. */
async function nutsOf() {
  const [latest] = (await strips()).sort((a, b) => (b.at ?? 0) - (a.at ?? 0));
  const seen = latest && (await view(latest.strip, "strip").catch(() => null));
  return { nuts: seen?.fields.self_locking_nuts?.value ?? null };
}

const never = () => false;

export function Begin() {
  const choices = useChoices();
  const summaries = useSummaries();
  const acting = useActing();
  const policy = useFresh(nutsOf, [], never);
  if (!choices || !summaries.data) return html`<${Frame} title=${t("Begin a strip-down")}><${Standing} views=${[{ data: choices }, summaries]} /><//>`;
  const foot = html`<button type="submit" form="begin" class="main" disabled=${acting.busy}>${t("Begin")}</button>`;
  return html`<${Frame} title=${t("Begin a strip-down")} foot=${foot}>
    <${Drafted} form=${Beginning} stem="begin" ...${{ acting, choices, nuts: policy.data?.nuts ?? null }} machines=${known(summaries.data)} /><//>`;
}

function Beginning({ acting, choices, nuts, machines, begun }) {
  const start = { name: "", machine: NEW, machine_name: "", by_map: false, self_locking_nuts: null, ...noStandard() };
  const form = useDrafted(begun, start, acting);
  async function choose(machine) {
    form.fill({ machine, ...noStandard() });
    const line = machines.get(machine);
    // The form does without what the phone can't read just now.
    const standard = line && (await standardOf(line.strip).catch(() => null));
    if (standard && form.latest.current.machine === machine) form.fill(standard);
  }
  async function save(event) {
    event.preventDefault();
    const { machine, by_map: byMap, ...rest } = form.latest.current;
    const of = machines.has(machine) ? { machine, machine_name: machines.get(machine).machine_name } : { machine: null };
    const answer = await form.act("begin_strip", { ...rest, ...of, self_locking_nuts: rest.self_locking_nuts ?? nuts });
    if (answer?.strip) leadOn(byMap ? route.map(answer.strip) : route.takeOff(answer.strip));
    else if (answer) form.begin(start);
  }
  const unit = form.bind("standard_unit");
  const ourNuts = form.form.self_locking_nuts ?? nuts ?? choices.self_locking_nuts[0];
  // A machine that has left this phone since is a new one to it.
  const machine = machines.has(form.form.machine) ? form.form.machine : NEW;
  const tiles = [[NEW, t("A new machine")], ...[...machines].map(([each, line]) => [each, line.machine_name || t("Machine without a name")])];
  return html`<form id="begin" class="stack" onSubmit=${save} novalidate>
      <${HereAgain} back=${form.back} words=${(gaps) => t("Your unfinished strip-down is here again, from {when}.", gaps)} onAfresh=${form.afresh} /><${Problems} problems=${acting.problems} />
      ${machines.size > 0 && html`<${Tiles} ...${form.bind("machine")} value=${machine} onValue=${choose} label=${t("Which machine")} options=${tiles} />`}
      ${machine === NEW && html`<${Text} ...${form.bind("machine_name")} label=${t("Machine")} big aria-required="true" />`}
      <${Text} ...${form.bind("name")} label=${t("Name of the strip-down")} hint=${t("What it is for: you will look for it by this name.")} big aria-required="true" />
      <div class="stack close"><${Tick} ...${form.bind("by_map")} label=${t("Take a map of its kind first")} />
        <p class="quiet">${t("From a file, or from a strip-down on this phone: what is foreseen then comes off in a few taps.")}</p></div>
      <section class="section"><h2>${t("The standard machine")}</h2>
        <p class="quiet">${t("Only if you know it now; it can be given later.")}</p>
        <${Figure} ...${form.bind("standard")} unit=${unit.value} units=${choices.mass_units} onUnit=${unit.onValue} label=${t("Standard mass")} />
        <${Text} ...${form.bind("standard_source")} label=${t("Where that figure is from")} hint=${t("Papers, manual, own scales; dry or ready to ride.")} />
        <${Text} ...${form.bind("tank_litres")} label=${t("Tank, litres")} figure /></section>
      <${Section} light title=${t("Self-locking nuts in this shop")} says=${word(ourNuts, "self_locking_nuts")}>
        <${Tiles} ...${form.bind("self_locking_nuts")} value=${ourNuts} label=${t("Self-locking nuts")} options=${choices.self_locking_nuts} /><//>
    </form>`;
}
