// What the fields of a thing are called and measured in, on its page and in its history.

import { t } from "../words.js";

/** Fields whose value is a choice code; any other text is somebody's own words, and stays as it was written. */
export const CHOICE_FIELDS = ["place", "side", "came_in", "outcome", "head", "into", "torque_condition", "what", "finish", "pattern", "tool_type", "before", "gone", "replace_each_time", "self_locking_nuts", "adjusted", "measured_in", "counted", "inwards_is"];

/** What a field's number is measured in, where it has a unit. */
export const UNITS = {
  standard_grams: "g", aim_grams: "g", step_grams: "g", capacity_grams: "g", zero_grams: "g", grams_each: "g", torque_low_newton_metres: "N.m", torque_high_newton_metres: "N.m",
  torque_tolerance_newton_metres: "N.m", torque_steps_newton_metres: "N.m", prevailing_newton_metres: "N.m",
  low_newton_metres: "N.m", high_newton_metres: "N.m", step_newton_metres: "N.m",
  kilopascals: "kPa", as_found_kilopascals: "kPa", millimetres: "mm", as_found_millimetres: "mm",
};

/** @returns {Record<string, string>} words by the field's name in an entry */
export const fieldNames = () => ({
  name: t("Name"), place: t("Place on the machine"), side: t("Side"), pieces: t("Pieces"), came_in: t("How the machine came in"),
  off: t("Off now"), outcome: t("What becomes of it"), outcome_done: t("That is done"), replacement: t("Swapped for what"),
  bag: t("Bag"), note: t("Note"), count: t("How many"), thread: t("Thread"), length_millimetres: t("Length, mm"), head: t("Head"),
  key: t("Key or spanner"), grade: t("Grade on the head"), sits: t("Where it sits"), washers: t("Washers"), into: t("Screws into"),
  torque_low_newton_metres: t("Torque from the manual"), torque_high_newton_metres: t("Up to, where the manual gives a range"),
  torque_angle_degrees: t("Then by angle, degrees"), torque_condition: t("Threads"), torque_as_written: t("Torque as written"),
  torque_tolerance_newton_metres: t("Tolerance, ±"), torque_steps_newton_metres: t("Steps before it"),
  prevailing_newton_metres: t("Prevailing torque"), pattern: t("Order"), finish: t("Finish"), thread_confirmed: t("Thread held to a gauge or a nut"),
  engagement_millimetres: t("Thread screwed in, mm"), outside_engine: t("Only holds something on the engine’s outside"),
  torque_page: t("Manual and page"), what: t("What it needs"), text: t("In words"), closed: t("Done"), closed_how: t("How it was done"),
  for_whom: t("Who does it"), before: t("Before what"), due_on: t("By which day"), cost: t("Cost"), paid: t("What it came to"), currency: t("Currency"),
  budget: t("What it is to cost"), budget_currency: t("Currency of what it is to cost"), planned_hours: t("Hours it is to take"), rule: t("Caution"),
  number: t("Number of its frame or plate"), label: t("Label"), kept: t("Where it is kept"), aim_grams: t("Aim"), standard_grams: t("Standard mass"),
  standard_source: t("Where that figure is from"), tank_litres: t("Tank, litres"),
  step_grams: t("Step of the scale"), capacity_grams: t("Most it can weigh"), gain_percent: t("Gain error, %"), zero_grams: t("Zero, give or take"),
  calibrated_on: t("Calibrated on"), certificate: t("Certificate"), put_away: t("Put away"),
  grams_each: t("One weighs"), grip: t("Thickness it clamps, mm"),
  tool_type: t("Kind of wrench"), low_newton_metres: t("Lowest mark"), high_newton_metres: t("Top"), step_newton_metres: t("Step of its scale"),
  deviation_percent: t("Permissible deviation, %"), lever_millimetres: t("From the middle of the grip to the square, mm"),
  wheelbase_millimetres: t("Wheelbase, mm"), front_axle_millimetres: t("Front axle above the ground, mm"),
  rear_axle_millimetres: t("Rear axle above the ground, mm"), tank_along_millimetres: t("Middle of the tank behind the front axle, mm"),
  tank_up_millimetres: t("Middle of the tank above the ground, mm"), standard_state: t("State that the standard mass is of"),
  standard_rear_percent: t("Published share on the rear wheel, %"), standard_up_millimetres: t("Published height of the centre of mass, mm"),
  along_millimetres: t("Behind the front axle, mm"), up_millimetres: t("Above the ground, mm"),
  part: t("Which part"), first: t("Goes on first"), gone: t("Why it can’t come back"), early_why: t("Why it went on early"), back_after: t("Order on the way back"),
  to_along_millimetres: t("Went to: behind the front axle, mm"), to_up_millimetres: t("Went to: above the ground, mm"),
  position_plus_minus_millimetres: t("Place, give or take, mm"), carried: t("What carries it"), paint_gone: t("Paint gone somewhere"),
  retorque_kilometres: t("Retorque after, km"), retorque_unit: t("Distance in"), retorque_days: t("After how many days"),
  retorque_heat_cycles: t("After how many heat cycles"), retorque_once: t("Retorque once"), retorque_from: t("Who wants it"),
  locking_compound: t("Which compound"), cure_hours: t("Cures in how many hours"), cure_from: t("Where the hours are from"),
  adjusted: t("What is adjusted"), measured_in: t("Measured in"), counted: t("Counted"), inwards_is: t("Turned in, it gets"), read_how: t("How it is read"),
  how_to_undo: t("How to undo it"), as_found_unknown: t("Nobody knows how it was found"), value: t("How it stands now"), as_found: t("As found"),
  clicks: t("Now, clicks"), turns: t("Now, turns"), steps: t("Now, steps"), millimetres: t("Now, mm"), kilopascals: t("Now, pressure"), revolutions_per_minute: t("Now, rpm"),
  degrees: t("Now, degrees"), percent: t("Now, %"), in_words: t("Now, in words"),
  as_found_clicks: t("As found, clicks"), as_found_turns: t("As found, turns"), as_found_steps: t("As found, steps"), as_found_millimetres: t("As found, mm"), as_found_kilopascals: t("As found, pressure"),
  as_found_revolutions_per_minute: t("As found, rpm"), as_found_degrees: t("As found, degrees"), as_found_percent: t("As found, %"), as_found_in_words: t("As found, in words"),
  day: t("Which day"),
  csv: t("The table"), delimiter: t("What parts the cells"), manual: t("Which manual"), asked: t("Those asked about"),
  foreseen: t("As foreseen in a map"), map: t("From the map of"), turn: t("Turn in the map"), ordinary_grams: t("Masses in the map, g"), about_minutes: t("About how many minutes"), dropped: t("Not on this machine"), page: t("Manual and page"), machine: t("Kind of machine"), other_machine: t("Kind of machine"),
  // As forms call them, where that differs
  retorque_distance: t("After a distance of"), odometer: t("Odometer shows"), heat_cycles: t("Heat cycles"), lower: t("Why is it lower now?"),
  low: t("Lowest mark"), high: t("Top"), deviation: t("Permissible deviation, %"), angle: t("Then by angle, degrees"),
  bag_label: t("Bag"), length: t("Length, mm"), figure: t("Figure"), figure_high: t("To"), step: t("Step"),
  plus_minus: t("Give or take"), source: t("Which document, which page"), scale: t("Which scale"), maturity: t("How well known"),
  torque: t("Torque"), torque_high: t("Up to, where the manual gives a range"), torque_angle: t("Then by angle, degrees"),
  torque_tolerance: t("Tolerance, ±"), torque_steps: t("Steps before it"), prevailing: t("Prevailing torque"), engagement: t("Thread screwed in, mm"),
  with_tool: t("Wrench"), lever: t("Length of the wrench, mm"), adapter: t("Length of the adapter, mm"), adapter_degrees: t("Angle of the adapter, degrees"),
  setting: t("Set to"), from: t("Where from"), to: t("Where to"),
  tool: t("Tool"), who: t("Your name"), machine_name: t("Name of the machine"), standard: t("Standard mass"),
  total: t("The total that was written or said"), rounded_to: t("Rounded to"), which: t("Which sum it is of"),
  capacity: t("Most it can weigh"), zero: t("Zero, give or take"), known: t("What it weighs"), known_plus_minus: t("Give or take"),
  against: t("Against what"), tare: t("Empty container"), fluid: t("Which fluid"), litres: t("Litres"), plus_minus_litres: t("Give or take, litres"),
  front: t("Under the front wheel"), rear: t("Under the rear wheel"), fuel_litres: t("Fuel in the tank, litres"), rider: t("Rider on it, with clothes and helmet"), front_higher: t("Front wheel stood higher by, mm"),
  rear_raised: t("Rear axle raised by, mm"), front_scale: t("Scale under the front wheel"), rear_scale: t("Scale under the rear wheel"),
  why: t("Why"), size: t("Size of a pin, washer or clip"), replace_each_time: t("New each time"), self_locking_nuts: t("Self-locking nuts"), looked_at: t("What was looked at"), how: t("How was it done?"), all_the_same: t("Why all the same"), missing: t("What is known of it"), next: t("What comes next"), ended_at_ms: t("When it ended"), people: t("Who is there"),
});
