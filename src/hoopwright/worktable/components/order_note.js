// What is said about the order in one line below the drawing.
import { distance } from "/parts/geometry.js";
import { t, tn } from "/parts/texts.js";

const NEAR = 1; // mm: the loose end of a finding is an end of one of our cuts

export const OrderNote = {
  props: { store: Object, panel: Object, strokes: Array },
  computed: {
    reason() {
      const found = (this.store.tried ?? this.store.view)?.findings ?? [];
      return found.find((f) => f.severity === "blocks") ?? null;
    },
    /** The number of the cut that ends in the middle of a piece; 0 when that is not what is amiss. */
    loose() {
      if (this.reason?.code !== "HW261" || !this.reason.point) return 0;
      return 1 + this.strokes.findIndex((s) => s.some((end) => distance(end, this.reason.point) < NEAR));
    },
    stuck() {
      return this.panel.patches.some((p) => p.stuck);
    },
    line() {
      const order = this.panel.order;
      if (!order.sewable) return t(this.stuck ? "draw.order.none" : "draw.order.mend");
      if (order.sections.length > 1) return tn("draw.order.sections", order.sections.length);
      const orders = order.exact ? tn("draw.order.count", order.count) : t("draw.order.count.more", { n: order.count });
      return t("draw.order.one", { order: order.sections[0].map((m) => m[0]).join(" "), orders });
    },
  },
  methods: { t },
  template: `<p class="order-note" :class="{ blocked: !panel.order.sewable }" aria-live="polite">{{ line }} <span v-if="!panel.order.sewable && loose">{{ t("draw.order.loose", { n: loose }) }}</span><span v-else-if="!panel.order.sewable && reason">{{ reason.message }}.</span></p>`,
};
