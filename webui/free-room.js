// Letting pictures go that the PC holds, when a person says so: the PC is asked once more before a byte goes.

import * as log from "./log.js";
import * as pc from "./requests.js";

const HASHES_A_REQUEST = 500;

/**
 * Let all pictures go from this phone that the PC holds now; they are fetched from there when they are looked at.
 * Those that it turns out to lack are unsent again.
 * @returns {Promise<{gone: number, lacking: number}>} how many went, and how many stay, as the PC lacks them
 * @throws {PcAway|PcRefused} none of the rest went
 */
export async function letPicturesGo() {
  const { csrf } = await pc.hello();
  const hashes = await log.sentPhotos();
  let [gone, lacking] = [0, 0];
  for (let from = 0; from < hashes.length; from += HASHES_A_REQUEST) {
    const page = hashes.slice(from, from + HASHES_A_REQUEST);
    const missing = await pc.missingPhotos(csrf, page);
    if (missing.length) await log.unsendPhotos(missing, { from: "sent" });
    lacking += missing.length;
    gone += await log.dropSentPhotos(page.filter((sha256) => !missing.includes(sha256)));
  }
  return { gone, lacking };
}
