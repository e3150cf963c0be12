// What is said about the order in one line below the drawing.
import { t, tn } from "/parts/texts.js";

export const OrderNote = {
  props: { store: Object, panel: Object },
  computed: {
    reason() {
      const found = (this.store.tried ?? this.store.view)?.findings ?? [];
      return found.find((f) => f.severity === "blocks") ?? null;
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
  template: `<p class="order-note" :class="{ blocked: !panel.order.sewable }" aria-live="polite">{{ line }} <span v-if="!panel.order.sewable && reason" lang="en">{{ reason.message }}.</span></p>`,
};
