// The frame in which the page's framework puts the worktable. Everything else is in plain modules below /parts.
//
// The framework would keep a line open to the server, reload the page when it breaks, and say so in its own words. The worktable
// asks for what it needs itself, so that line is never opened (and the server does not answer it).
import { defineAsyncComponent } from "vue";
import { fetched, NotStarted } from "/parts/start.js";

const nobody = () => ({ io: { on() {}, opts: {}, engine: {} }, on() {}, emit() {}, disconnect() {} });
window.io = nobody;

const page = (file, name) => defineAsyncComponent({ loader: () => fetched(file, name), errorComponent: NotStarted, delay: 0 });
const MachinePage = page("/parts/machine.js", "MachinePage");
const Table = page("/parts/table.js", "Table");

export default {
  components: { MachinePage, Table },
  data: () => ({ atMachine: location.pathname.startsWith("/machine/") }),
  template: `<MachinePage v-if="atMachine" /><Table v-else />`,
};
