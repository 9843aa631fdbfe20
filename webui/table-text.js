// The text of a table's file, whichever way a spreadsheet wrote it: UTF-8 or UTF-16, or the old Western code page.

const MARKS = [["utf-8", [0xef, 0xbb, 0xbf]], ["utf-16le", [0xff, 0xfe]], ["utf-16be", [0xfe, 0xff]]];
/** So many bytes tell UTF-16 without its mark: every other one of plain letters is nought. */
const LOOKED_AT = 200;

function withoutMark(bytes) {
  const first = [...bytes.subarray(0, LOOKED_AT)];
  const noughts = (from) => first.filter((byte, index) => index % 2 === from && byte === 0).length;
  const most = first.length / 4;
  if (noughts(1) > most && noughts(0) === 0) return "utf-16le";
  return noughts(0) > most && noughts(1) === 0 ? "utf-16be" : null;
}

/** @param {Uint8Array} bytes @returns {string} the text, without its byte order mark */
export function tableText(bytes) {
  const marked = MARKS.find(([, mark]) => mark.every((byte, index) => bytes[index] === byte))?.[0] ?? withoutMark(bytes);
  if (marked) return new TextDecoder(marked).decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
