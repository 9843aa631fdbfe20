// A file that was made, and the ways out of the phone that this browser has: the share sheet, or a download.

import { html, useEffect, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { size } from "./file_work.js";
import { say } from "./live.js";

const today = () => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
};

/** A file of today. Its name is ours: nothing that a person wrote is in it. */
export const fileNamed = (content, what, ending, type) => new File(content, `cotterbook-${what}-${today()}.${ending}`, { type });

/** @param {{file: File, children?: object}} props what is in it stands between its name and the ways out */
export function FileOut({ file, children }) {
  const [address, setAddress] = useState(null);
  useEffect(() => {
    const made = URL.createObjectURL(file);
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [file]);
  const shares = navigator.canShare?.({ files: [file] });
  async function share() {
    try {
      await navigator.share({ files: [file] });
      say(t("Handed over."));
    } catch (error) {
      if (error.name !== "AbortError") say(t("This browser did not hand it over. Save it instead."));
    }
  }
  return html`<p><strong>${file.name}</strong> <span class="quiet">${size(file.size)}</span></p>
    ${children}
    <div class="row">${shares && html`<button type="button" class="grow" onClick=${share}>${t("Hand it over")}</button>`}
      ${address && html`<a class="button grow" href=${address} download=${file.name}>${t("Save it")}</a>`}</div>`;
}
