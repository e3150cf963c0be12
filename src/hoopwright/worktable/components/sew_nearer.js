// Looking from nearer: buttons, two fingers, the wheel with Ctrl, and dragging. Mixed into the screen, which has `player` and `painter`.
import { moved, WHOLE, zoomed } from "/parts/player_camera.js";

export const nearer = {
  data: () => ({ close: false }), // whether the hoop is looked at from nearer
  created() {
    this.pointers = new Map();
  },
  methods: {
    zoom(by, about = null) {
      const { painter } = this;
      const middle = about ?? [painter.size.width / 2, painter.size.height / 2];
      this.look(zoomed(this.player.sheet.field, painter.size, painter.camera, painter.side, by, middle));
    },
    look(camera) {
      this.painter.fresh({ camera });
      this.close = camera !== WHOLE && camera.zoom > 1;
      this.dirty = true;
    },
    whole() {
      this.look(WHOLE);
    },
    spot(event) {
      const box = this.$refs.over.getBoundingClientRect();
      return [(event.clientX - box.left) * this.painter.ratio, (event.clientY - box.top) * this.painter.ratio];
    },
    down(event) {
      if (event.button || this.state !== "ready") return;
      this.pointers.set(event.pointerId, this.spot(event));
      if (this.close || this.pointers.size > 1) this.$refs.over.setPointerCapture(event.pointerId);
    },
    move(event) {
      const was = this.pointers.get(event.pointerId);
      if (!was) return;
      const now = this.spot(event);
      const other = [...this.pointers].find(([id]) => id !== event.pointerId)?.[1];
      const { painter, player } = this;
      this.pointers.set(event.pointerId, now);
      if (other) {
        const far = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
        this.zoom(far(now) / far(was), [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2]);
      } else if (this.close) {
        this.look(moved(player.sheet.field, painter.size, painter.camera, painter.side, now[0] - was[0], now[1] - was[1]));
      }
    },
    up(event) {
      this.pointers.delete(event.pointerId);
    },
    wheel(event) {
      if (!event.ctrlKey || this.state !== "ready") return;
      event.preventDefault();
      this.zoom(Math.exp(-event.deltaY / 200), this.spot(event));
    },
  },
};
