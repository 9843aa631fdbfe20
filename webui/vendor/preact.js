// The one place that names the drawing library's files for all screens.
import htm from "./htm-3.1.1.mjs";
import { h } from "./preact-11.2.0.mjs";
export { Fragment, createContext, h, render } from "./preact-11.2.0.mjs";
export * from "./preact-hooks-11.2.0.mjs";
export const html = htm.bind(h);
