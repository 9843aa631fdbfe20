// Taking a map: out of a file, or straight from a strip-down that is on this phone.

import { html, useState } from "../vendor/preact.js";
import { route } from "../addresses.js";
import * as shop from "../shop.js";
import { t } from "../words.js";
import { Section } from "../pieces/fields.js";
import { Problems } from "../pieces/form.js";
import { useActing, useSummaries } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { ChooseMap, MapInShort, useMapFile } from "../pieces/map_file.js";
import { foreseenFasteners } from "../pieces/show.js";

/** So many strip-downs are offered before somebody asks for all. */
const OFFERED = 3;

/** @param {{strip: string, machine: string}} props `machine` as this one is called, or "" */
export function Take({ strip, machine }) {
  const file = useMapFile();
  const acting = useActing();
  const [taken, setTaken] = useState(null);
  const other = acting.problems.find((problem) => problem.code === "other_machine");
  const anew = () => { setTaken(null); acting.setProblems([]); };
  const chosen = { ...file, choose: (event) => { anew(); return file.choose(event); } };
  const from = (line) => { anew(); return file.make(line.name, () => shop.mapFrom(line.strip, { machine: line.machine_name || line.name, now_ms: Date.now() })); };
  const leave = () => { file.leave(); acting.setProblems([]); };
  async function take(sure) {
    const answer = await acting.run("take_map", { strip, map: file.text, other_machine: sure });
    if (!answer) return;
    setTaken(file.short);
    file.leave();
  }
  return html`<section class="section"><h2>${t("Take a map")}</h2>
    <p>${t("All of it is checked before anything is kept. Taking it twice adds nothing twice. Nothing is taken for done, weighed or tightened because a map says so.")}</p>
    <${ChooseMap} file=${chosen} />
    <${Earlier} ...${{ strip, machine, from, busy: file.busy }} />
    ${file.short && html`<div class="block open"><${MapInShort} ...${file} />
      <${Section} light late title=${t("Its parts")} says=${t("in the order they come apart")}><ol class="brief">${file.short.names.map((name, index) => html`<li key=${index}><span class="name">${name}</span> <span class="quiet">${foreseenFasteners(file.short.fasteners_of[index]).join(" · ")}</span></li>`)}</ol><//>
      ${other ? html`<div class="notice bad" role="alert"><p>${t(other)}</p></div>` : html`<${Problems} problems=${acting.problems} />`}
      <div class="actions"><button type="button" class="main" disabled=${acting.busy} onClick=${() => take(Boolean(other))}>${other ? t("They are built alike: take it") : t("Take this map")}</button>
        <button type="button" onClick=${leave}>${t("Leave it")}</button></div></div>`}
    ${taken && html`<div class="block done"><p class="mark done" role="status">${taken.parts === 1 ? t("Taken: one part") : t("Taken: {count} parts", { count: taken.parts })}</p>
      <p><a class="button main" href=${route.takeOff(strip)}>${t("Begin taking off")}</a></p></div>`}
  </section>`;
}

const partsOf = (count) => count > 0 && html`, ${count === 1 ? t("one part") : t("{count} parts", { count })}`;

/** The other strip-downs of this phone from which a map can be made, those of such a machine first. */
function Earlier({ strip, machine, from, busy }) {
  const lines = useSummaries();
  const [all, setAll] = useState(false);
  const alike = (line) => Number(Boolean(machine) && line.machine_name === machine);
  const some = (lines.data ?? []).filter((line) => line.strip !== strip && line.name)
    .sort((a, b) => alike(b) - alike(a) || (b.at ?? 0) - (a.at ?? 0));
  if (some.length === 0) return null;
  const shown = all ? some : some.slice(0, OFFERED);
  const of = (line, place) => html`<li key=${line.strip} ...${place}><button type="button" disabled=${busy} onClick=${() => from(line)}>
    <span class="name">${line.machine_name || t("Machine without a name")}</span><span class="quiet"><bdi>${line.name}</bdi>${partsOf(line.counts?.parts ?? 0)}</span></button></li>`;
  return html`<h3>${t("Or from a strip-down on this phone")}</h3>
    <${LongList} rows=${shown} keyOf=${(line) => line.strip} box=${(rows) => html`<ul class="picks">${rows}</ul>`} of=${of} />
    ${some.length > shown.length && html`<button type="button" onClick=${() => setAll(true)}>${t("Show all {count}", { count: some.length })}</button>`}`;
}
