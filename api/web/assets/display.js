// How this person wants pages shown. Loaded in the head and not as a module, so
// that it is done before the first paint; the rest reads it from <html>.
(() => {
  const root = document.documentElement;
  const choices = { language: ["en", "de", "es"], units: ["plant", "metric", "inch"], theme: ["system", "light", "dark"], keys: ["on", "off"] };
  const own = navigator.languages?.map((l) => l.slice(0, 2)).find((l) => choices.language.includes(l));
  for (const [name, values] of Object.entries(choices)) {
    let kept = null;
    try {
      kept = localStorage.getItem("lanewright." + name);
    } catch { /* a browser that keeps nothing shows what is usual */ }
    const usual = name === "language" && own || values[0];
    root.dataset[name] = values.includes(kept) ? kept : usual;
  }
  root.lang = root.dataset.language;
  if (root.lang !== "en") root.classList.add("waiting");
})();
