// The core's modules, which the phone's Python loads. A test compares this list with the folder.
export const CORE_FILES = [
  "__init__", "acts", "acts_back", "acts_part", "entries", "fasteners", "fields", "figures", "maker", "mass",
  "ordinary_parts", "phone", "strip", "torque", "values", "views", "views_back", "views_part", "words",
];
