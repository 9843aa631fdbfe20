// Words of help where the hand is: a card of at most five lines with a drawing, behind a small button beside the field.

import { html, useEffect, useRef, useState } from "../vendor/preact.js";
import { t } from "../words.js";
import { drawings } from "./how_to_drawings.js";
import { Icon } from "./icons.js";

/**
 * All cards by name: {title, alt, lines}. `alt` says what the drawing shows. What each line rests on stands in
 * tests/web/test_how_to.py; none may hold against the machine's own manual.
 */
export const cards = () => ({
  scale: {
    title: t("How to read a scale"), alt: t("A part lies in the middle of a level scale and touches nothing else. The figure stands still."),
    lines: [
      t("Put it level and bring it to zero with nothing on it."),
      t("Only the part stands on it: no hose, hand or wall bears any of it."),
      t("Wait till the figure stands still. Where it wanders, write both ends of it."),
      t("Write the figure as it is read, and the step: the smallest change that it shows."),
      t("Taken off, it shows zero again. If not, weigh once more."),
    ],
  },
  heavy: {
    title: t("How to weigh what is too wide or too heavy"), alt: t("Left: a long part lies on a box that stands on the scale. Right: a long part lies with an end on each of two scales, level."),
    lines: [
      t("Too wide for the plate: put a box on the scale and the part on the box."),
      t("Weigh the box empty on the same scale and write it as the container."),
      t("Too heavy: an end on each of two scales at once, level. Both figures together are its mass."),
      t("The whole machine goes wheel by wheel: there is a screen for it."),
      t("Nothing may lean, hang or pull while it is read."),
    ],
  },
  thread: {
    title: t("How to measure a thread"), alt: t("A bolt with three measures: across the thread, over ten pitches, and the length from under the head to the end. A countersunk one is measured whole."),
    lines: [
      t("Across the crests with a calliper: a little less than what it is called, just under 8 mm for M8."),
      t("Pitch: hold a gauge into it, or measure over ten pitches, crest to crest, and divide by ten."),
      t("Length: from under the head to the end. A countersunk one is measured whole."),
      t("A worn or stretched thread measures wrong: a good nut of that thread goes on by hand."),
      t("Write M8 × 1.25 and 25, or 1/4-20 and its length."),
    ],
  },
  key: {
    title: t("How to find the size of a key"), alt: t("Left: a hexagon, measured from one flat to the flat across from it. Right: a socket in a round head, measured from flat to flat inside."),
    lines: [
      t("Measure across two flats, not across corners."),
      t("A socket in the head is measured inside, flat to flat."),
      t("The right key goes on all the way and has next to no play."),
      t("Write its size and kind: 13, or 6 mm hex."),
      t("The same thread has other keys on other machines, so measure rather than guess."),
    ],
  },
  adapter: {
    title: t("How to use a torque adapter"), alt: t("A wrench with its length L from the middle of the grip to the square, and an adapter with its length E from the square to the middle of the bolt."),
    lines: [
      t("L: from the middle of the grip to the square. E: from the square to the middle of the bolt."),
      t("Straight on, set T × L ÷ (L + E): less than the torque T that is wanted."),
      t("Square across, set T. Back over the handle, set T × L ÷ (L − E): more than T."),
      t("At another angle a, E × cos a stands in the place of E. The form works it out."),
      t("Pull at the middle of the grip: elsewhere L is another."),
    ],
  },
  mark: {
    title: t("How to make a witness mark"), alt: t("Seen from above: one line of paint runs across the fastener and on over the part beneath it. Beside it the same after it turned: the line is broken."),
    lines: [
      t("Tighten first, mark after: a mark says that the torque is on it."),
      t("Wipe it clean and dry, so that the paint holds."),
      t("One line, across the fastener and on over the part that it sits on."),
      t("Where it can be seen later. A broken line says that it turned."),
      t("Tightened anew: wipe off the old line and draw a new one."),
    ],
  },
  order: {
    title: t("How to tighten in steps and in order"), alt: t("Four fasteners in a square: 1 and 2 across from each other, then 3 and 4, the other pair."),
    lines: [
      t("Put all of them in by hand first, till they sit."),
      t("One, then the one across from it; then the pair at a right angle, then the pairs between."),
      t("First round to 70 %, in order; then a round to all of it."),
      t("A manual that has steps, angles or another order of its own comes before this."),
      t("Mark each only after its last step."),
    ],
  },
  label: {
    title: t("How to hold a label to the camera"), alt: t("A label lies flat, its square code whole in the middle of the phone’s picture and about half as wide as it."),
    lines: [
      t("Smooth the bag, so that the code lies flat."),
      t("All of the code in the picture, about half as wide as it."),
      t("Light from the side: a bag that shines hides its code."),
      t("Hold still for a moment; go back a little where it is blurred."),
      t("Or type what stands on it: that opens it too."),
    ],
  },
});

/** The drawing of a card, with the words that say the same. */
function Drawn({ name, alt }) {
  return html`<svg class="drawn" viewBox="0 0 320 120" role="img" aria-label=${alt}>${drawings()[name]}</svg>`;
}

/** A card as it stands on the screen of help, or in the dialog. */
export function Card({ name, level = 2, id }) {
  const { title, alt, lines } = cards()[name];
  return html`<${level === 2 ? "h2" : "h3"} id=${id}>${title}<//>
    <${Drawn} name=${name} alt=${alt} />
    <ol class="how-lines">${lines.map((line) => html`<li key=${line}>${line}</li>`)}</ol>`;
}

/** What is said below every card. */
export const First = () => html`<p class="quiet">${t("The machine’s own manual comes first.")}</p>`;

/**
 * The small button beside a field, and the card that it opens. The form below stays as it is.
 * @param {{card: string}} props a name of `cards`
 */
export function HowTo({ card }) {
  const [open, setOpen] = useState(false);
  const title = cards()[card].title;
  return html`<button type="button" class="plain how-to" aria-haspopup="dialog" onClick=${() => setOpen(true)}><${Icon} name="help" /><span>${title}</span></button>
    ${open && html`<${Dialog} card=${card} onClose=${() => setOpen(false)} />`}`;
}

function Dialog({ card, onClose }) {
  const dialog = useRef(null);
  useEffect(() => { dialog.current.showModal(); }, []);
  // What is pressed in here is no answer to the form that it stands in.
  const apart = (event) => event.stopPropagation();
  return html`<dialog ref=${dialog} class="how" aria-labelledby=${`how-${card}`} onClose=${onClose} onKeyDown=${apart} onClick=${apart}>
    <div class="stack close"><${Card} name=${card} id=${`how-${card}`} /><${First} />
      <button type="button" class="main" onClick=${() => dialog.current.close()}>${t("Close")}</button></div></dialog>`;
}
