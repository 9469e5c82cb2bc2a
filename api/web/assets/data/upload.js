// Sending files: with progress, and with a word on what happened to them where
// it fails. The files stay with the page, so that it can be done again.
import { refusal } from "../ask.js";
import { t } from "../words.js";

const largest = 32 * 1024 * 1024; // bytes, as the server has it

/** tooLarge reports whether files are more than the server takes. */
export const tooLarge = (files) => files.reduce((sum, f) => sum + f.size, 0) > largest;

/** upload posts files, and a mapping where there is one, and returns what came
 *  back as a Blob. told hears the share that is sent; signal ends it. */
export async function upload(path, files, { mapping = "", told = () => {}, signal } = {}) {
  const form = new FormData();
  if (mapping) form.append("mapping", mapping);
  for (const f of files) form.append("file", f, f.name);
  const answer = await post("/api/v1" + path, form, told, signal);
  if (answer === null) {
    await Promise.all(files.map((f) => f.slice(0, 1).arrayBuffer())).catch(() => { throw new Error(t("upload.moved")); });
    throw new Error(t("upload.broken"));
  }
  if (answer.status >= 400) throw refusal(answer.status, await answer.response.text().then(JSON.parse).catch(() => null));
  return answer.response;
}

/** uploadFor is upload where the answer is JSON. */
export const uploadFor = async (path, files, options) => JSON.parse(await (await upload(path, files, options)).text());

/** post returns null where nobody answered. */
function post(address, form, told, signal) {
  return new Promise((done, fail) => {
    const x = new XMLHttpRequest();
    x.open("POST", address);
    x.responseType = "blob";
    x.upload.addEventListener("progress", (e) => { if (e.lengthComputable) told(e.loaded / e.total); });
    x.addEventListener("load", () => done(x));
    x.addEventListener("error", () => done(null));
    x.addEventListener("abort", () => fail(new DOMException("", "AbortError")));
    signal?.addEventListener("abort", () => x.abort());
    x.send(form);
  });
}
