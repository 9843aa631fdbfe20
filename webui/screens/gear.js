// What is measured with: the scales, each with its card.

import { html } from "../vendor/preact.js";
import { t } from "../words.js";
import { Frame } from "../pieces/frame.js";
import { useView } from "../pieces/live.js";
import { Standing } from "../pieces/show.js";
import { Scales } from "./gear_scales.js";

export function Gear({ strip }) {
  const whole = useView(strip, "strip");
  return html`<${Frame} title=${t("Scales")} strip=${strip} of=${whole.data?.name}>
    <${Standing} views=${[whole]} />
    ${whole.data && html`<${Scales} strip=${strip} />`}
  <//>`;
}
