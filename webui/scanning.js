// Codes seen by the camera: by the browser's own reader where it has one, else by a vendored one, fetched only then.

const EVERY_MS = 120;
const PLAYS_WITHIN_MS = 15_000;
// A code on a label held at arm's length fills a third of such a picture; more makes slow phones slower still.
const WIDEST = 800;

/** @returns {Promise<(video: HTMLVideoElement) => Promise<string[]>>} reads what a video shows at that moment */
async function reader() {
  const formats = "BarcodeDetector" in self ? await BarcodeDetector.getSupportedFormats() : [];
  if (formats.includes("qr_code")) {
    const detector = new BarcodeDetector({ formats: ["qr_code"] });
    return async (video) => {
      try {
        return (await detector.detect(video)).map((each) => each.rawValue);
      } catch {
        // No picture there yet, or the phone's service is busy: the next one is looked at in a moment.
        return [];
      }
    };
  }
  const { decodeQR } = await import("./vendor/qr-decode-0.7.0.mjs");
  const canvas = document.createElement("canvas");
  return async (video) => {
    const by = Math.min(1, WIDEST / Math.max(video.videoWidth, video.videoHeight));
    canvas.width = Math.round(video.videoWidth * by);
    canvas.height = Math.round(video.videoHeight * by);
    const drawing = canvas.getContext("2d", { willReadFrequently: true });
    drawing.drawImage(video, 0, 0, canvas.width, canvas.height);
    try {
      return [decodeQR(drawing.getImageData(0, 0, canvas.width, canvas.height))];
    } catch {
      // No code in sight, or half of one: the next picture is looked at in a moment.
      return [];
    }
  };
}

/** Whether this browser lets a page see through the camera at all: only over HTTPS, or on the PC itself. */
export const canSee = () => Boolean(navigator.mediaDevices?.getUserMedia);

/**
 * Look through the camera at the back until told to stop.
 * @param {HTMLVideoElement} video shows what the camera sees
 * @param {(text: string) => void} onText told of each code, as often as it is seen
 * @param {() => void} onEnd told when the camera ends by itself: pulled out, or taken by another program
 * @returns {Promise<() => void>} stops the camera
 */
export async function look(video, onText, onEnd) {
  const stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
  let looking = true;
  const stop = () => { looking = false; stream.getTracks().forEach((track) => track.stop()); };
  try {
    stream.getTracks().forEach((track) => track.addEventListener("ended", () => { if (looking) onEnd(); }));
    const read = await reader();
    video.srcObject = stream;
    // A picture that never begins to play leaves the camera on without anybody seeing through it.
    await Promise.race([video.play(), new Promise((_, reject) => { setTimeout(() => reject(new Error("no picture")), PLAYS_WITHIN_MS); })]);
    const again = async () => {
      if (!looking) return;
      if (video.videoWidth > 0) (await read(video)).forEach((text) => looking && onText(text));
      setTimeout(again, EVERY_MS);
    };
    again();
  } catch (error) {
    stop();
    throw error;
  }
  return stop;
}
