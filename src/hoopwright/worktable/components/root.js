// The frame in which the page's framework puts the worktable. Everything else is in plain modules below /parts.
import { Table } from "/parts/table.js";

export default {
  components: { Table },
  props: { screen: String, name: String },
  template: `<Table :screen="screen" :name="name" />`,
};
