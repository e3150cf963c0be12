// Lets the modules of the page be loaded by Node: what the page asks for below /parts lies in one folder; of Vue they get what makes plain data.
import { register } from "node:module";
import { pathToFileURL } from "node:url";

const parts = new URL("../../../src/hoopwright/worktable/components/", import.meta.url).href;
const vue = `data:text/javascript,${encodeURIComponent("export const reactive = (x) => x; export const markRaw = (x) => x; export const toRaw = (x) => x;")}`;
const hook = `export function resolve(name, context, next) {
  if (name === "vue") return { url: ${JSON.stringify(vue)}, shortCircuit: true, format: "module" };
  return name.startsWith("/parts/") ? { url: ${JSON.stringify(parts)} + name.slice(7), shortCircuit: true, format: "module" } : next(name, context);
}`;
register(`data:text/javascript,${encodeURIComponent(hook)}`, pathToFileURL("./"));
