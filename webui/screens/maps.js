// Two maps of one kind of machine made into one: every difference is shown, and a person says which map is right.

import { html, useEffect, useState } from "../vendor/preact.js";
import * as shop from "../shop.js";
import { t } from "../words.js";
import { Tick } from "../pieces/fields.js";
import { FileOut, fileNamed } from "../pieces/file_out.js";
import { Frame } from "../pieces/frame.js";
import { problemsOf } from "../pieces/live.js";
import { LongList } from "../pieces/long_list.js";
import { ChooseMap, MapInShort, WrongFile, useMapFile } from "../pieces/map_file.js";

export function Maps({ strip }) {
  const [first, second] = [useMapFile(), useMapFile()];
  const both = first.short && second.short;
  return html`<${Frame} title=${t("Merge two maps")} strip=${strip}>
    <p>${t("Masses and times of both are kept, each machine once. Where the two say different things, the first stands until you say that the second is right.")}</p>
    <div class="twofold"><${One} file=${first} title=${t("The first map")} label=${t("Choose the first map")} /><${One} file=${second} title=${t("The second map")} label=${t("Choose the second map")} /></div>
    ${both && html`<${Merged} key=${`${first.chosen} ${second.chosen}`} first=${first.text} second=${second.text} />`}
  <//>`;
}

const One = ({ file, title, label }) => html`<section class="section"><h2>${title}</h2><${ChooseMap} file=${file} label=${label} />
  ${file.short && html`<div class="block"><${MapInShort} ...${file} /></div>`}</section>`;

function Merged({ first, second }) {
  const [take, setTake] = useState([]);
  const [state, setState] = useState({ data: null, problems: [] });
  const [file, setFile] = useState(null);
  useEffect(() => {
    let live = true;
    setFile(null);
    shop.mergeMaps({ first, second, take }).then(
      (data) => live && setState({ data, problems: [] }),
      (error) => live && setState((before) => ({ ...before, problems: problemsOf(error) })));
    return () => { live = false; };
  }, [first, second, take]);
  const { data } = state;
  if (!data) return html`<${WrongFile} file=${{ name: "", problems: state.problems }} />`;
  const turn = (number, on) => setTake((now) => (on ? [...now, number] : now.filter((each) => each !== number)));
  const choices = data.differences.filter((each) => each.choice).map((each) => each.number);
  const nameOf = ({ part }) => (typeof part === "string" ? part : t(part));
  // The name of a part stands once over all in which it differs.
  const named = ({ number }) => number === 0 || nameOf(data.differences[number]) !== nameOf(data.differences[number - 1]);
  const of = (each, place) => html`<li class="line" key=${each.number} ...${place}>${named(each) && html`<p><strong><bdi>${nameOf(each)}</bdi></strong></p>`}
    <div class="which-is-right"><p>${t(each.sentence)}</p>
    ${each.choice && html`<${Tick} field=${`take-${each.number}`} label=${t("The second map is right")} value=${take.includes(each.number)} onValue=${(on) => turn(each.number, on)} />`}</div></li>`;
  return html`<section class="section"><h2>${data.differences.length > 0 ? t("In what they differ: {count}", { count: data.differences.length }) : t("The two differ in nothing but masses and times")}</h2>
    ${data.of_other_kinds && html`<p class="notice bad">${t("The two maps are of differently named kinds of machine. Merge them only if they are built alike.")}</p>`}
    ${choices.length > 1 && html`<p>${t("The second map stands in {count} of {of}, the first in all others.", { count: choices.filter((each) => take.includes(each)).length, of: choices.length })}</p>
      <div class="row"><button type="button" class="grow" onClick=${() => setTake(choices)}>${t("The second is right in all")}</button>
        <button type="button" class="grow" onClick=${() => setTake([])}>${t("The first is right in all")}</button></div>`}
    <${LongList} rows=${data.differences} keyOf=${(each) => String(each.number)} box=${(rows) => html`<ul class="lines">${rows}</ul>`} of=${of} />
    ${state.problems.length > 0 ? html`<${WrongFile} file=${{ name: "", problems: state.problems }} />`
      : html`<button type="button" class="main" onClick=${() => setFile(fileNamed([data.text], "map", "json", "application/json"))}>${t("Make the merged map")}</button>`}
    ${file && html`<div class="block done"><p class="mark done" role="status">${t("Made, read back, and whole")}</p><${FileOut} file=${file}><${MapInShort} short=${data.short} /><//></div>`}</section>`;
}
