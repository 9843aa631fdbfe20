// What an owner does on the PC: its list of devices, and giving up what is gone there; and pairing this one. All of it
// needs the PC: nothing is kept here.

import * as log from "./log.js";
import * as pc from "./requests.js";
import { sendNow } from "./sync.js";
import { uuidv7 } from "./vendor/uuidv7-1.2.1.mjs";

/** @typedef {{id: string, name: string, role: string, paired_ms: number, revoked_ms: number|null, seen_ms: number|null, unsent: number|null, unsent_photos: number|null, here: boolean}} Device */

/**
 * Pair this device by a code of the owner's, and send what waits.
 * @param {string} code as typed: blanks do not matter
 * @param {string} name what the list calls this device
 * @returns {Promise<{role: string, name: string}>} throws Told
 */
export async function pair(code, name) {
  const { csrf } = await pc.hello();
  const device = await log.settingOnce("device", uuidv7);
  const paired = await pc.pair(csrf, { code: code.replace(/\s/g, ""), device, name });
  sendNow();
  return paired;
}

/**
 * The list, and the codes that nobody has taken yet, by the moment until which each is good.
 * @returns {Promise<{devices: Device[], codes: number[]}>} throws Told
 */
export const all = () => pc.devices();

/**
 * A code that pairs one more device.
 * @param {string} role
 * @returns {Promise<{code: string, until_ms: number, lives_ms: number, address: string, url: string, qr: string[], trust: object|null}>} throws Told
 */
export const codeFor = async (role) => pc.pairingCode((await pc.hello()).csrf, role);

/** @returns {Promise<Device[]>} the list as it is then; throws Told */
export const change = async (id, name, role) => (await pc.changeDevice((await pc.hello()).csrf, id, { name, role })).devices;

/** Let a device in no longer. @returns {Promise<Device[]>} the list as it is then; throws Told */
export async function revoke(id) {
  const { devices } = await pc.revokeDevice((await pc.hello()).csrf, id);
  return devices;
}

/** No more will come of the entries that were gone from the PC at this moment; then hear how things stand. Throws Told. */
export async function giveUp(noticed_ms) {
  await pc.giveUp((await pc.hello()).csrf, noticed_ms);
  sendNow();
}
