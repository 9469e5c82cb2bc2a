// The place where files are dropped, or chosen by a button.
import { el } from "../element.js";
import { t } from "../words.js";

/** drop is the place for files; take gets them, at least one. Files that are
 *  dropped beside it count too: a browser would else open them and leave the
 *  page. */
export function drop(take) {
  const input = el("input", { type: "file", multiple: true, hidden: true, id: "files", "aria-label": t("drop.choose"), onchange: () => { taken([...input.files]); input.value = ""; } });
  const trouble = el("p", { role: "alert" });
  const zone = el("div", { class: "drop" },
    el("p", { class: "big" }, t("drop.title")), el("p", { class: "quiet" }, t("drop.kinds")),
    el("button", { type: "button", class: "main", id: "choose", onclick: () => input.click() }, t("drop.choose")), input, trouble);
  addEventListener("dragover", (e) => { e.preventDefault(); zone.classList.add("over"); });
  addEventListener("dragleave", (e) => { if (!e.relatedTarget) zone.classList.remove("over"); });
  addEventListener("drop", (e) => {
    e.preventDefault();
    zone.classList.remove("over");
    if (!zone.isConnected) return;
    if ([...e.dataTransfer.items].some((i) => i.webkitGetAsEntry?.()?.isDirectory)) trouble.textContent = t("drop.folder");
    else taken([...e.dataTransfer.files]);
  });
  return zone;

  function taken(files) {
    trouble.textContent = "";
    if (files.length) take(files);
  }
}
