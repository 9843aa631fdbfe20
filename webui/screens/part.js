// One part: everything known of it, each thing open to correction, and its history.

import { html } from "../vendor/preact.js";
import { route } from "../addresses.js";
import { t } from "../words.js";
import { Facts, factsOf, yesOrNo } from "../pieces/facts.js";
import { CautionLine } from "../pieces/follow_ups.js";
import { Problems } from "../pieces/form.js";
import { Frame } from "../pieces/frame.js";
import { History } from "../pieces/history.js";
import { Items } from "../pieces/items.js";
import { useActing, useChoices, useFresh, useView } from "../pieces/live.js";
import { TakePhotos, Thumb } from "../pieces/photos.js";
import { Bag, Mass, Outcome, Standing, byWhom, whereabouts } from "../pieces/show.js";
import { Waits, waitsLeft } from "../pieces/waits.js";
import { Otherwise } from "./map.js";
import { AddGroup, Group } from "./part_groups.js";
import { Readings } from "./part_readings.js";
import { settingName, stands } from "./settings_words.js";

const never = () => false;

function facts(choices, bag) {
  const details = {
    name: {}, place: { options: choices.places }, side: { options: choices.sides }, pieces: { count: 200 },
    outcome: { options: choices.outcomes }, outcome_done: { options: yesOrNo() }, replacement: {},
    bag_label: { seen: "bag", shown: bag ?? "" }, kept: {}, gone: { options: choices.gone }, came_in: { options: choices.came_in }, off: { options: yesOrNo() }, paint_gone: { options: yesOrNo() }, note: { lines: true },
  };
  return factsOf(details);
}

export function Part({ strip, part }) {
  // The core answers in turn: once the whole is there, a part that is not is not in the log.
  const view = useView(strip, "part", { part });
  const whole = useView(strip, "strip");
  const choices = useChoices();
  // A form that was begun and not saved is in sight again.
  const left = useFresh(() => waitsLeft(strip), [strip], never);
  const { data } = view;
  if (!whole.data || !choices || !data || !left.data) {
    const unknown = whole.data && choices && left.data && !data && !view.trouble && !whole.trouble;
    return html`<${Frame} title=${t("Part")} strip=${strip} of=${whole.data?.name}>${unknown ? html`<${Unknown} />` : html`<${Standing} views=${[whole, view, left, { data: choices }]} />`}<//>`;
  }
  const { row, groups, name, struck } = data;
  const of = { strip, part, choices };
  return html`<${Frame} title=${data.name} strip=${strip} of=${whole.data.name}>
    ${data.struck && html`<p class="notice">${t("This part was struck as a mistake and counts nowhere. To have it again, take the strike back in its history.")}</p>`}
    <${Standing} views=${[whole, view]} />
    <div class="stack close"><p>${whereabouts(row)}</p>
      <p class="row"><${Outcome} ...${row} />${row.bag && html`<${Bag} label=${row.bag} />`}</p>
      <dl class="sums"><div><dt>${t("Changes the machine by")}</dt><dd><${Mass} shown=${row.change} signed none=${t("not weighed")} /></dd></div></dl>
      ${row.reason && html`<p>${t(row.reason)}</p>`}
      ${wentBack(data) && html`<${OffAgain} ...${of} />`}</div>
    <div class="twofold">
      <div class="stack">
        <section class="section"><h2>${t("Fasteners")}</h2>
          ${groups.map((group) => html`<${Group} key=${group.group} group=${group} name=${name} struck=${struck} ...${of} />`)}
          ${!struck && html`<${AddGroup} name=${name} bag=${row.bag} off=${row.off} ...${of} />`}</section>
        <${Readings} name=${name} struck=${struck} readings=${data.readings} outcome=${row.outcome} pieces=${row.pieces} ...${of} />
        <${Photos} photos=${data.photos} ...${of} />
        ${!struck && html`<${Waits} name=${name} left=${left.data} ...${of} />`}
        ${data.settings.length > 0 && html`<section class="section"><h2>${t("Settings")}</h2><dl class="facts">${data.settings.map((each) => html`<div key=${each.setting}><dt><bdi>${settingName(each)}</bdi> <span class="quiet">${whereabouts(each)}</span></dt><dd class="figure">${stands(each.now)}</dd></div>`)}</dl>
          <p><a class="reach" href=${route.settings(strip)}>${t("To the settings")}</a></p></section>`}
        ${data.otherwise && html`<section class="section"><h2>${t("Against the map")}</h2>${data.otherwise.length > 0 ? html`<p class="mark bad">${t("Otherwise than foreseen")}</p><${Otherwise} sentences=${data.otherwise} />` : html`<p class="mark done">${t("As foreseen in the map")}</p>`}</section>`}
        <${FollowUps} cautions=${data.cautions} ...${of} />
        <section class="section"><h2>${t("Still to do")}</h2><${Items} struck=${struck} items=${data.items} ...${of} /></section>
      </div>
      <div class="stack">
        <section class="section"><h2>${t("The part")}</h2><${Facts} strip=${strip} thing=${part} type="part" fields=${data.fields} facts=${facts(choices, row.bag)} /></section>
        <section class="section"><h2>${t("History")}</h2><${History} strip=${strip} history=${data.history} /></section>
      </div>
    </div>
  <//>`;
}

/** Whether the part, or what took its place, went on the machine after something came off or was planned. */
function wentBack({ row, fields }) {
  if (["swapped", "added"].includes(row.outcome)) return row.outcome_done;
  return !row.off && fields.off !== undefined;
}

function OffAgain({ strip, part }) {
  const acting = useActing();
  return html`<${Problems} problems=${acting.problems} />
    <div><button type="button" disabled=${acting.busy} onClick=${() => acting.run("part_off", { strip, part })}>${t("It came off again")}</button></div>`;
}

/** Cautions that follow from what was done to this part. */
function FollowUps({ strip, cautions, choices }) {
  const acting = useActing();
  if (cautions.length === 0) return null;
  return html`<section class="section"><h2>${t("What follows from it")}</h2><${Problems} problems=${acting.problems} />
    <ul class="lines">${cautions.map((caution) => html`<${CautionLine} key=${caution.rule} named ...${{ strip, caution, choices, acting }} />`)}</ul></section>`;
}

const Unknown = () => html`<p class="notice">${t("This part is not in the log of this phone. It may come with the next sending.")}</p>`;

function Photos({ strip, part, photos }) {
  const acting = useActing();
  return html`<section class="section"><h2>${t("Photos")}</h2><${Problems} problems=${acting.problems} />
    ${photos.length > 0 && html`<ul class="thumbs">${photos.map((photo) => html`<li key=${photo.entry}><${Thumb} sha256=${photo.sha256} caption=${photo.caption} /><span class="quiet">${photo.caption ?? byWhom(photo)}</span>
      <a class="reach" href=${route.pins(strip, photo.entry)}>${t("Pin fasteners")}</a></li>`)}</ul>`}
    <${TakePhotos} onPhoto=${(photo) => acting.inTurn("photo", { strip, thing: part, photo })} /></section>`;
}
