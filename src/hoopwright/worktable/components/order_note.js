// What is said about the order in one line below the drawing.
import { t, tn } from "/parts/texts.js";

export const OrderNote = {
  props: { store: Object, panel: Object },
  computed: {
    line() {
      const order = this.panel.order;
      if (!order.sewable) return t("draw.order.none");
      if (order.sections.length > 1) return tn("draw.order.sections", order.sections.length);
      const orders = order.exact ? tn("draw.order.count", order.count) : t("draw.order.count.more", { n: order.count });
      return t("draw.order.one", { order: order.sections[0].map((m) => m[0]).join(" "), orders });
    },
  },
  template: `<p class="order-note" :class="{ blocked: !panel.order.sewable }" aria-live="polite">{{ line }}</p>`,
};
