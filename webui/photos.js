// Pictures: taken in, made small, kept on the phone, and shown.

import { photoAddress } from "./addresses.js";
import { PhotoRefused } from "./errors.js";
import * as log from "./log.js";
import { NO_JPEG, frameSize, isPlain, plainJpeg } from "./plain-jpeg.js";

export const BYTES_IN = 15_000_000;
export const BYTES_KEPT = 2_000_000;
const LONGER_SIDE = 2000;
const NOT_SMALLER = "The picture could not be made smaller. It was not taken in. Choose another.";
const CARRIES_MORE = "The picture carries more than itself, which can say where and by what it was taken.";
// A picture of more could fill the memory while it is drawn.
const PIXELS = 50_000_000;
const USED_FOR_MS = 60_000;
const COPY_MS = 30_000;
const QUALITIES = [0.85, 0.75, 0.6, 0.45];

/**
 * Make a picture small, upright and free of what its camera wrote into it, and keep it.
 * @param {File|Blob} file
 * @returns {Promise<{sha256: string, bytes: number, width: number, height: number}>} once it is on the phone
 * @throws {PhotoRefused} too big, or no picture; nothing was kept
 * @throws {StorageFull|StorageAway}
 */
export async function shrink(file) {
  if (file.size > BYTES_IN) {
    throw new PhotoRefused("The picture is larger than {limit} MB. It was not taken in. Choose a smaller one.", { limit: BYTES_IN / 1e6 });
  }
  const { canvas, blob } = await small(file).catch((error) => {
    throw error instanceof PhotoRefused ? error : new PhotoRefused(NOT_SMALLER, {}, error);
  });
  const bytes = withoutNotes(await blob.arrayBuffer());
  const sha256 = await hash(bytes);
  await log.addPhoto({ sha256, bytes, type: "image/jpeg", width: canvas.width, height: canvas.height });
  return { sha256, bytes: bytes.byteLength, width: canvas.width, height: canvas.height };
}

/**
 * Whether bytes that came by file are a JPEG picture that this phone can draw, and nothing else.
 * @param {Uint8Array} bytes @returns {Promise<{width: number, height: number}>} @throws {PhotoRefused}
 */
export async function checkPicture(bytes) {
  if (!isPlain(bytes)) throw new PhotoRefused(CARRIES_MORE);
  const blob = new Blob([bytes], { type: "image/jpeg" });
  // As the picture says of itself: a browser keeps what image elements have loaded, of many pictures one beside the other.
  const { width, height } = frameSize(bytes);
  if (width * height > PIXELS) throw new PhotoRefused("The picture has more than {limit} pixels.", { limit: PIXELS });
  const drawn = await createImageBitmap(blob, { resizeWidth: 8, resizeHeight: 8 }).catch((error) => { throw new PhotoRefused(NO_JPEG, {}, error); });
  drawn.close();
  return { width, height };
}

async function small(file) {
  const image = await readImage(file);
  for (let side = LONGER_SIDE; ; side = Math.round(side * 0.7)) {
    const canvas = await draw(file, image, side);
    for (const quality of QUALITIES) {
      const blob = await jpeg(canvas, quality);
      if (blob.size <= BYTES_KEPT) return { canvas, blob };
    }
  }
}

// An image element tells the size as it is shown, turned upright, without decoding it all.
function readImage(file) {
  const address = URL.createObjectURL(file);
  const image = new Image();
  return new Promise((resolve, reject) => {
    image.onload = () => resolve(image);
    image.onerror = () => reject(new PhotoRefused("This file is no picture that this phone can read. It was not taken in. Choose another."));
    image.src = address;
  }).finally(() => setTimeout(() => URL.revokeObjectURL(address), USED_FOR_MS));
}

async function draw(file, image, longerSide) {
  const { naturalWidth: wide, naturalHeight: tall } = image;
  const scale = Math.min(1, longerSide / Math.max(wide, tall));
  const [width, height] = [Math.max(1, Math.round(wide * scale)), Math.max(1, Math.round(tall * scale))];
  const canvas = makeCanvas(width, height);
  const pen = canvas.getContext("2d");
  // JPEG knows no transparency, and would show it black.
  pen.fillStyle = "white";
  pen.fillRect(0, 0, width, height);
  pen.imageSmoothingQuality = "high";
  const picture = await scaled(file, image, width, height);
  pen.drawImage(picture, 0, 0, width, height);
  picture.close?.();
  return canvas;
}

// Scaling while decoding spares a poor phone the full bitmap; where it is not known, the canvas scales.
async function scaled(file, image, resizeWidth, resizeHeight) {
  try {
    return await createImageBitmap(file, { resizeWidth, resizeHeight, resizeQuality: "high", imageOrientation: "from-image" });
  } catch {
    return image;
  }
}

function makeCanvas(width, height) {
  if (globalThis.OffscreenCanvas?.prototype.convertToBlob) return new OffscreenCanvas(width, height);
  return Object.assign(document.createElement("canvas"), { width, height });
}

/** The browser that wrote the JPEG may have put notes of its own into it. @param {ArrayBuffer} made @returns {ArrayBuffer} */
function withoutNotes(made) {
  try {
    return plainJpeg(new Uint8Array(made)).buffer;
  } catch (error) {
    throw new PhotoRefused(NOT_SMALLER, {}, error);
  }
}

function jpeg(canvas, quality) {
  if (canvas.convertToBlob) return canvas.convertToBlob({ type: "image/jpeg", quality });
  return new Promise((resolve, reject) => {
    canvas.toBlob((blob) => (blob ? resolve(blob) : reject(new PhotoRefused(NOT_SMALLER))), "image/jpeg", quality);
  });
}

async function hash(bytes) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/**
 * A picture made small anew, so that nothing is in it but what is seen.
 * @param {string} sha256 @param {number} side its longer side at the most, in pixels
 * @returns {Promise<string|null>} a data: URL; null where the picture is neither here nor to be had from the PC now
 */
export async function smallCopy(sha256, side) {
  const file = await bytesOf(sha256);
  if (!file) return null;
  try {
    const canvas = await draw(file, await readImage(file), side);
    const bytes = withoutNotes(await (await jpeg(canvas, QUALITIES[0])).arrayBuffer());
    return await dataUrl(new Blob([bytes], { type: "image/jpeg" }));
  } catch (error) {
    if (error instanceof PhotoRefused) return null;
    throw error;
  }
}

async function bytesOf(sha256) {
  const kept = await log.photo(sha256);
  if (kept) return new Blob([kept.bytes], { type: kept.type });
  const answer = await fetch(photoAddress(sha256), { signal: AbortSignal.timeout(COPY_MS) }).catch(() => null);
  return answer?.ok ? answer.blob().catch(() => null) : null;
}

const dataUrl = (blob) => new Promise((resolve, reject) => {
  const reader = new FileReader();
  reader.onload = () => resolve(reader.result);
  reader.onerror = () => reject(new PhotoRefused(NOT_SMALLER, {}, reader.error));
  reader.readAsDataURL(blob);
});

const shown = new Map();

/**
 * Where a page finds a picture: on this phone, else on the PC.
 * @param {string} sha256 @returns {Promise<string>} for `img src`; stays valid while the page lives
 */
export async function pictureUrl(sha256) {
  if (!shown.has(sha256)) {
    const kept = await log.photo(sha256);
    if (!kept) return photoAddress(sha256);
    if (!shown.has(sha256)) shown.set(sha256, URL.createObjectURL(new Blob([kept.bytes], { type: kept.type })));
  }
  return shown.get(sha256);
}
