// What can go wrong on the phone, each with a sentence for the person.

/** An error whose `sentence` {text, values} is for `t()`: what happened, what was kept, what to do. */
export class Told extends Error {
  /** @param {string} text English with {gaps} @param {object} [values] @param {unknown} [cause] */
  constructor(text, values = {}, cause = undefined) {
    super(text.replace(/\{(\w+)\}/g, (gap, name) => String(values[name] ?? gap)), { cause });
    this.name = this.constructor.name;
    this.sentence = { text, values };
  }
}

/** The phone has no room: nothing of this write was kept, everything before it was. */
export class StorageFull extends Told {
  constructor(cause) {
    super("This phone's storage is full. This was not saved; everything saved before is still here. " +
      "Delete something else on the phone, or send to the PC, then save again.", {}, cause);
  }
}

/** The phone's storage failed in another way. */
export class StorageAway extends Told {
  constructor(cause) {
    super("This phone's storage did not answer: {reason}. This was not saved. " +
      "Close other tabs of this program, reload this page and save again.", { reason: String(cause?.message ?? cause) }, cause);
  }
}

/** An answer of the PC came after another tab had learned that it keeps other data now: nothing of the answer was kept. */
export class OtherData extends Told {
  constructor() {
    super("The PC went back to other data just then. Everything is kept on this phone and is sent again.");
  }
}

/** Each time that the PC answers, its data are others than the time before: this phone began anew already, and nothing went on. */
export class OtherEachTime extends Told {
  /** @param {number} times how often so far */
  constructor(times) {
    super("The PC says each time that its data are others than before. Two programs may answer at its address. Everything is kept on " +
      "this phone and is sent again by itself. Tell the owner.");
    this.times = times;
  }
}

/** The core refused a form: `problems` is a list of {code, field, text, values}. */
export class CoreProblems extends Told {
  constructor(problems) {
    super(problems[0]?.text ?? "This was refused.", problems[0]?.values ?? {});
    this.problems = problems;
  }
}

/** The core did not start, did not answer or died, and has to be filled again: `detail` is what is known of it. */
export class CoreAway extends Told {
  constructor(detail) {
    super("The arithmetic did not answer. Everything saved is kept. Reload this page.", {});
    this.detail = detail;
  }
}

/** The core lives, but broke off over this one question, and would again: `detail` is its traceback. */
export class CoreFault extends Told {
  constructor(detail) {
    super("The arithmetic failed at this: {reason}. Everything saved is kept, and so is what was typed. " +
      "Reload this page and try again.", { reason: detail.trim().split("\n").at(-1) });
    this.detail = detail;
  }
}

/** A form was sent while the core was away: it is kept as a draft and worked in later. */
export class KeptAsDraft extends Told {
  constructor(cause) {
    super("Kept on this phone, not yet in the log. It goes in by itself when the arithmetic answers again; " +
      "nothing needs typing twice.", {}, cause);
  }
}

/** A picture that cannot be taken in. */
export class PhotoRefused extends Told {}

/** The PC did not answer, or something else answers in its place. */
export class PcAway extends Told {}

/** The PC is there, and the network carries so little that a picture did not get across in its time. */
export class TooSlow extends Told {
  /** @param {number} ms how long it had */
  constructor(ms) {
    super("The network is too slow for this picture: it did not get across within {seconds} seconds. It stays on this phone and is " +
      "tried again by itself. Go nearer to the network's antenna.", { seconds: Math.round(ms / 1000) });
  }
}

/** The PC answers, and this device is not on its list, or no longer: `pairing` says which. */
export class NotPaired extends Told {
  /** @param {"unpaired"|"revoked"} pairing */
  constructor(pairing) {
    super(pairing === "revoked"
      ? "The owner has taken this device off the PC's list. Everything is kept here. Pair it again, or hand over what is here by a file."
      : "This device is not paired with the PC yet. Everything is kept here and goes across once it is.");
    this.pairing = pairing;
  }
}

/** The PC answered with an error of its own: `status` and `code` as it gave them. */
export class PcRefused extends Told {
  constructor(status, { code, text, values }) {
    super(text, values);
    this.status = status;
    this.code = code;
  }
}
