// The English word for each choice code of the core; a test compares the codes with its tables.

export const LABELS = {
  // Places on the machine
  front_wheel: "front wheel", fork: "fork", front_brake: "front brake", front_end: "front end", handlebar: "handlebar",
  tank: "tank", seat: "seat", side: "side", engine: "engine", intake: "intake", exhaust: "exhaust", cooling: "cooling",
  electrics: "electrics", frame: "frame", footrests: "footrests", swing_arm: "swing arm", rear_brake: "rear brake",
  rear_wheel: "rear wheel", tail: "tail", luggage: "luggage", other: "other",
  // Sides
  left: "left", right: "right", both: "both sides", middle: "middle",
  // How a part came in
  fitted: "was on it", missing: "was already missing", accessory: "accessory, was on it", new: "new",
  // Outcomes
  stays_off: "stays off", swapped: "swapped", cut_down: "cut down", moved: "moved", goes_back: "goes back", added: "added",
  // Where a figure comes from
  weighed: "weighed", document: "from a document", worked_out: "worked out", estimated: "estimated",
  taken_off: "as taken off", going_on: "going on", after_cut: "after the cut", offcut: "the offcut",
  known: "known part, not weighed", similar: "from a similar part", guess: "a guess",
  // Where fasteners are
  machine: "on the machine", bag: "in a bag", spares: "in spares", scrapped: "scrapped", lost: "lost", stock: "new from stock",
  // Heads
  hex: "hexagon", flange_hex: "hexagon with flange", socket_cap: "socket cap", button: "button head",
  countersunk: "countersunk", hexalobular: "hexalobular", cross: "cross recess", slot: "slot", nut: "nut", stud: "stud", clip: "clip",
  rivet: "rivet", pin: "pin",
  // What they screw into
  steel: "steel", cast_aluminium: "cast aluminium", wrought_aluminium: "wrought aluminium", magnesium: "magnesium",
  brass_insert: "brass insert", captive_nut: "captive nut", loose_nut: "loose nut", plastic: "plastic",
  // How the thread is tightened
  dry: "dry", oiled: "oiled", locking_compound: "locking compound",
  // Units as they are read, where they differ from how they are kept
  "N.m": "N·m", "kgf.m": "kgf·m", "lbf.ft": "lbf·ft", "lbf.in": "lbf·in", "kgf/cm2": "kgf/cm²", bar: "bar", kPa: "kPa", psi: "psi",
  one_click: "click", one_turn: "turn", one_step: "step", one_degree: "degree", rpm: "rpm",
  // How far a machine ran
  km: "km", mi: "miles",
  // What is adjusted, and what it is measured in
  preload: "preload", compression_damping: "compression damping", rebound_damping: "rebound damping", lever: "lever", chain_slack: "chain slack",
  lamp_aim: "aim of a lamp", tyre_pressure: "tyre pressure", idle: "idle",
  clicks: "clicks", turns: "turns", steps: "steps", millimetres: "mm", kilopascals: "kPa", revolutions_per_minute: "rpm", degrees: "degrees",
  percent: "%", in_words: "in words",
  out_from_in: "out from fully in", in_from_out: "in from fully out", harder: "harder", softer: "softer",
  // Open items
  make: "make", move: "move", buy: "buy", secure: "secure", check: "check", decide: "decide",
  // What is new each time
  cotter_pin: "cotter pin", safety_wire: "safety wire", crush_washer: "crush washer", stretch_bolt: "stretch bolt", circlip: "circlip",
  self_locking_nut: "self-locking nut", may_be_used_again: "may be used again", new_each_time: "new each time", while_they_drag: "again while they drag",
  // Before what something is to be done
  riding: "before riding", next_spell: "before the next spell", some_day: "some day",
  // Why a part never comes back
  sold: "sold", given_away: "given away",
  // Why one part waits for another
  behind: "it sits behind", reached: "out of reach afterwards", hangs_on: "this hangs on it", loom: "it holds the loom",
  // What a caution rests on
  manual: "the machine’s manual", local_rules: "your local rules", common_practice: "common practice",
  // Spells
  begins: "begins", ends: "ends",
  // A tightened group against its specification
  accepted: "within the specification", doubtful: "doubtful, not proven", refused: "outside the specification",
  below: "below the specification", above: "above the specification", no_specification: "no specification",
  // Finishes of a fastener
  black: "black", zinc: "zinc plated", stainless: "stainless", coated: "coated", chrome: "chromed", plain: "plain",
  // Patterns of tightening
  pair: "pair", "pattern.cross": "two rows, crosswise", star: "star", spiral: "spiral from the middle", ring: "ring, across", row: "row from the middle",
  // What carries a part
  sprung: "sprung", unsprung: "unsprung", rotating: "turns with a wheel",
  // Fluids
  petrol: "petrol", engine_oil: "engine oil", fork_oil: "fork oil", coolant: "coolant", brake_fluid: "brake fluid", water: "water",
  // The state a whole machine is weighed or published in
  as_it_stands: "as it stands", running_order: "in running order",
  // Torque tools
  click: "click wrench", slipping: "slipping wrench", "tool_type.bar": "bar with a pointer", dial: "wrench with a dial",
  electronic: "electronic wrench", screwdriver: "torque screwdriver",
  // What a scale was checked against
  reference_weight: "reference weight", better_scale: "something weighed on a better scale", coin: "coin", other_thing: "something else",
  // What a group still needs
  count: "count", torque: "torque", mark: "mark", second_check: "second check",
  // What a second look found
  "found.right": "found right", not_right: "not right",
  // What a device may do
  owner: "owner", hand: "hand", looker_on: "looker-on",
};
