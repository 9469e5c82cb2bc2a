// Looking at the floor: moving and zooming by mouse, touch, wheel and keys.

const most = 200; // pixels per metre
const nudge = 60; // pixels an arrow key moves

/** View turns metres into pixels and back; changed() is called at most once a
 *  frame, chosen(x, y, slack) when somebody picks a spot. */
export class View {
  constructor(canvas, box, changed, chosen) {
    Object.assign(this, { canvas, all: box, changed, chosen, x: 0, y: 0, px: 1, waiting: false });
    this.place = (p) => [(p.x - this.x) * this.px, (this.y - p.y) * this.px];
    this.listen();
  }

  get size() { return [this.canvas.clientWidth, this.canvas.clientHeight]; }

  get box() {
    const [w, h] = this.size;
    return { left: this.x, right: this.x + w / this.px, top: this.y, bottom: this.y - h / this.px };
  }

  /** whole shows everything; on shows a box. */
  whole() { this.on(this.all, 40); }

  on(box, edge = 80) {
    const [w, h] = this.size;
    const [wide, high] = [Math.max(1, box.right - box.left), Math.max(1, box.top - box.bottom)];
    this.px = Math.min(60, Math.max(0.5, Math.min((w - 2 * edge) / wide, (h - 2 * edge) / high)));
    this.x = (box.left + box.right) / 2 - w / 2 / this.px;
    this.y = (box.top + box.bottom) / 2 + h / 2 / this.px;
    this.ask();
  }

  move(dx, dy) {
    this.x -= dx / this.px;
    this.y += dy / this.px;
    this.ask();
  }

  /** zoom keeps the spot under a pixel where it is. */
  zoom(by, px = this.size[0] / 2, py = this.size[1] / 2) {
    const [x, y] = [this.x + px / this.px, this.y - py / this.px];
    const least = 0.5 * Math.min(this.size[0] / (this.all.right - this.all.left + 1), this.size[1] / (this.all.top - this.all.bottom + 1));
    this.px = Math.min(most, Math.max(least, this.px * by));
    this.x = x - px / this.px;
    this.y = y + py / this.px;
    this.ask();
  }

  ask() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame(() => { this.waiting = false; this.changed(); });
  }

  listen() {
    const c = this.canvas;
    const down = new Map();
    let moved = 0;
    let touch = false;
    c.addEventListener("pointerdown", (e) => {
      c.setPointerCapture(e.pointerId);
      if (down.size === 0) moved = 0;
      down.set(e.pointerId, [e.offsetX, e.offsetY]);
      touch = e.pointerType === "touch";
    });
    c.addEventListener("pointermove", (e) => {
      const was = down.get(e.pointerId);
      if (!was) return;
      const now = [e.offsetX, e.offsetY];
      const other = [...down].find(([id]) => id !== e.pointerId)?.[1];
      down.set(e.pointerId, now);
      moved += Math.hypot(now[0] - was[0], now[1] - was[1]);
      if (!other) return this.move(now[0] - was[0], now[1] - was[1]);
      const far = (p) => Math.hypot(p[0] - other[0], p[1] - other[1]) || 1;
      this.move((now[0] - was[0]) / 2, (now[1] - was[1]) / 2);
      this.zoom(far(now) / far(was), (now[0] + other[0]) / 2, (now[1] + other[1]) / 2);
    });
    const up = (e) => {
      if (!down.delete(e.pointerId) || down.size || moved > 6 || e.type === "pointercancel") return;
      this.chosen(this.x + e.offsetX / this.px, this.y - e.offsetY / this.px, (touch ? 12 : 3) / this.px);
    };
    c.addEventListener("pointerup", up);
    c.addEventListener("pointercancel", up);
    c.addEventListener("wheel", (e) => {
      e.preventDefault();
      this.zoom(Math.exp(-Math.max(-60, Math.min(60, e.deltaY)) / 200), e.offsetX, e.offsetY);
    }, { passive: false });
    c.addEventListener("keydown", (e) => {
      const act = { ArrowLeft: () => this.move(nudge, 0), ArrowRight: () => this.move(-nudge, 0), ArrowUp: () => this.move(0, nudge), ArrowDown: () => this.move(0, -nudge), "+": () => this.zoom(1.3), "=": () => this.zoom(1.3), "-": () => this.zoom(1 / 1.3), Home: () => this.whole() }[e.key];
      if (!act || e.ctrlKey || e.metaKey || e.altKey) return;
      e.preventDefault();
      act();
    });
    new ResizeObserver(() => this.ask()).observe(c);
  }
}
