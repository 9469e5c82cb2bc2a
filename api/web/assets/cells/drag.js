// Dragging a loop to another level, with mouse, pen or finger. A finger holds for a moment
// first, so that the page can still be scrolled.
import { el } from "../element.js";

const slack = 6; // pixels before a press becomes a drag
const hold = 350; // milliseconds that a finger rests
const edge = 60; // pixels from the edge of the window where it scrolls

/** draggable lets what has a key be dragged from root. on has begin(key, at), at being the
 *  rack and level it was taken from: the marks are drawn, and drop(shelf): a level was hit;
 *  end() when it is over. */
export function draggable(root, on) {
  root.addEventListener("pointerdown", (down) => {
    const source = down.target.closest?.("[data-key]");
    if (!source?.dataset.key || down.button !== 0 || !down.isPrimary) return;
    const key = source.dataset.key;
    const from = source.closest(".shelf")?.dataset;
    const at = from && { rack: from.rack, level: Number(from.level) };
    const touch = down.pointerType === "touch";
    let ghost = null, last = down, scrolling = 0;
    const timer = touch && setTimeout(start, hold);
    const stop = new AbortController();
    const listen = (name, f, options = {}) => addEventListener(name, f, { signal: stop.signal, ...options });

    listen("pointermove", (e) => {
      last = e;
      const far = Math.hypot(e.clientX - down.clientX, e.clientY - down.clientY);
      if (!ghost && far > slack) {
        if (touch) return finish();
        start();
      }
      if (ghost) follow();
    });
    listen("pointerup", () => {
      const shelf = ghost && under();
      const dragged = Boolean(ghost);
      finish();
      if (dragged) swallow();
      if (shelf) on.drop(shelf);
    });
    listen("pointercancel", finish);
    listen("keydown", (e) => { if (e.key === "Escape" && ghost) { e.preventDefault(); e.stopPropagation(); finish(); swallow(); } }, { capture: true });
    listen("touchmove", (e) => { if (ghost) e.preventDefault(); }, { passive: false });
    listen("dragstart", (e) => e.preventDefault());

    function start() {
      ghost = el("div", { class: "ghost", "aria-hidden": "true" }, source.querySelector("b")?.textContent ?? "");
      document.body.append(ghost);
      document.documentElement.classList.add("dragging");
      on.begin(key, at);
      follow();
      scrolling = setInterval(scroll, 16);
    }

    function follow() {
      ghost.style.transform = `translate(${last.clientX + 12}px, ${last.clientY + 12}px)`;
      const shelf = under();
      for (const s of document.querySelectorAll(".shelf.aim")) if (s !== shelf) s.classList.remove("aim");
      shelf?.classList.add("aim");
    }

    function scroll() {
      const over = last.clientY < edge ? last.clientY - edge : last.clientY > innerHeight - edge ? last.clientY - innerHeight + edge : 0;
      if (over) { scrollBy(0, over / 4); follow(); }
    }

    function under() {
      return document.elementsFromPoint(last.clientX, last.clientY).map((e) => e.closest(".shelf.supply")).find(Boolean);
    }

    function finish() {
      clearTimeout(timer);
      clearInterval(scrolling);
      stop.abort();
      if (!ghost) return;
      ghost.remove();
      ghost = null;
      document.documentElement.classList.remove("dragging");
      document.querySelector(".shelf.aim")?.classList.remove("aim");
      on.end();
    }
  });
}

/** swallow keeps the click that ends a drag from choosing something. */
function swallow() {
  const eat = (e) => { e.stopPropagation(); e.preventDefault(); };
  addEventListener("click", eat, { capture: true, once: true });
  setTimeout(() => removeEventListener("click", eat, { capture: true }), 0);
}
