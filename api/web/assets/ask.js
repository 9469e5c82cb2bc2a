// Asking the API.
import { t } from "./words.js";

/** ask fetches JSON; a failure is an Error with the problem's detail and its
 *  status, undefined where nobody answered. */
export const ask = async (path, options) => (await answered(path, options)).body;

/** answered is ask that also tells how old the answer is: kept is the moment at
 *  which a service worker kept it, "" where it comes from the server. */
export async function answered(path, options = {}) {
  let answer;
  try {
    answer = await fetch("/api/v1" + path, { ...options, headers: { Accept: "application/json", ...options.headers } });
  } catch {
    throw new Error(t("ask.silent"));
  }
  const body = await answer.json().catch(() => null);
  if (!answer.ok) throw refusal(answer.status, body);
  return { body, kept: answer.headers.get("Kept-Since") ?? "" };
}

/** refusal is the error of a status and its problem document, null where there
 *  was none; the error keeps both, and errors are those of single fields. */
export function refusal(status, problem) {
  const more = (problem?.errors ?? []).map((e) => `${e.location}: ${e.message}`).join("; ");
  return Object.assign(new Error([problem?.detail ?? t("ask.status", { status: String(status) }), more].filter(Boolean).join(" ")), { status, problem, errors: problem?.errors ?? [] });
}

/** send changes something: method and a body that is sent as JSON. */
export function send(method, path, body, headers = {}) {
  return ask(path, { method, body: JSON.stringify(body), headers: { "Content-Type": "application/json", ...headers } });
}

/** all fetches every page of a list. */
export async function all(path) {
  const items = [];
  const join = path.includes("?") ? "&" : "?";
  for (let cursor = ""; ;) {
    const page = await ask(`${path}${join}limit=1000${cursor && "&cursor=" + encodeURIComponent(cursor)}`);
    items.push(...page.items);
    if (!page.next) return items;
    cursor = page.next;
  }
}

/** seg writes a code as a part of an address. */
export const seg = encodeURIComponent;

/** codeOf reads the code at the end of the page's own address. */
export const codeOf = () => decodeURIComponent(location.pathname.split("/").slice(2).join("/"));
