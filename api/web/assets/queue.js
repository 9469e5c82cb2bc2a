// The queue of a handler's device. What is ticked off is put here first and sent to the
// server when it can be reached. An event stays until the server has answered for it by
// its id, so none is lost when a page is closed or the network goes between the two; the
// server keeps an id once, so sending again does no harm.

const name = "lanewright-rounds";
const patience = 15_000; // ms for an answer
const batch = 100; // events in one request; the server takes 200
const remembers = 3 * 86_400_000; // ms for which what was sent is remembered

/** newID makes the id of an event; randomUUID is missing where a page is not secure. */
export function newID() {
  if (crypto.randomUUID) return crypto.randomUUID();
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = b[6] & 0x0f | 0x40; // version 4, RFC 9562
  b[8] = b[8] & 0x3f | 0x80;
  return [...b].map((x, i) => ([4, 6, 8, 10].includes(i) ? "-" : "") + x.toString(16).padStart(2, "0")).join("");
}

const result = (request) => new Promise((done, fail) => {
  request.onsuccess = () => done(request.result);
  request.onerror = () => fail(request.error);
});

const kept = (transaction) => new Promise((done, fail) => {
  transaction.oncomplete = () => done();
  transaction.onerror = transaction.onabort = () => fail(transaction.error);
});

function openDatabase() {
  return new Promise((done, fail) => {
    const request = indexedDB.open(name, 2);
    request.onupgradeneeded = ({ oldVersion }) => {
      if (oldVersion < 1) {
        const events = request.result.createObjectStore("events", { keyPath: "number", autoIncrement: true });
        events.createIndex("id", "event.id", { unique: true });
        events.createIndex("round", "round");
        request.result.createObjectStore("refused", { keyPath: "event.id" });
      }
      const sent = request.result.createObjectStore("sent", { keyPath: "event.id" });
      sent.createIndex("round", "round");
      sent.createIndex("when", "when");
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      done(request.result);
    };
    request.onerror = () => fail(request.error);
  });
}

/**
 * openQueue opens the queue of this device and begins to send what is in it. It fails
 * where the browser lets a page keep nothing, as in some private windows; then nothing
 * can be ticked off without a network, and the page must say so.
 *
 * onChange({pending, refused, sending, trouble, away}) is called after each change: how many
 * events wait, how many were refused, whether a request is under way, why the last
 * one failed ("" if it did not), and whether that was because nobody answered.
 * onAnswer(round, state) is called with how far the server says a round is.
 * first and most are the shortest and the longest wait between two tries, in ms.
 */
export async function openQueue({ onChange = () => {}, onAnswer = () => {}, first = 1000, most = 60_000 } = {}) {
  return new Queue(await openDatabase(), { onChange, onAnswer, first, most });
}

class Queue {
  #db; #options; #channel;
  #timer = 0; #failures = 0; #size = batch;
  #sending = false; #again = false; #closed = false; #trouble = ""; #away = false;

  constructor(db, options) {
    this.#db = db;
    this.#options = options;
    this.#channel = "BroadcastChannel" in globalThis ? new BroadcastChannel(name) : null;
    if (this.#channel) this.#channel.onmessage = () => this.#tell();
    addEventListener("online", this.#wake);
    document.addEventListener("visibilitychange", this.#wake);
    this.#forgetSent().catch(console.debug);
    this.send();
  }

  /** add puts events of a round into the queue, all or none, and returns them with id and
   * time. Once it is done they outlive the page. */
  async add(round, ...events) {
    const at = new Date().toISOString();
    const whole = events.map((e) => ({ id: newID(), at, ...e }));
    const t = this.#db.transaction("events", "readwrite", { durability: "strict" });
    const done = kept(t);
    for (const event of whole) t.objectStore("events").add({ round, event });
    await done;
    await this.#changed();
    this.send();
    return whole;
  }

  /** pending counts the events that wait. */
  pending() { return result(this.#read("events").count()); }

  /** waiting lists the events of a round that wait, in the order in which they came. */
  async waiting(round) {
    return (await result(this.#read("events").index("round").getAll(round))).map((x) => x.event);
  }

  /** made lists the events of a round that this device made and the server did not
   * refuse: those that wait, and those that it has sent in the last days. */
  async made(round) {
    const t = this.#db.transaction(["events", "sent"]);
    const lists = ["events", "sent"].map((store) => result(t.objectStore(store).index("round").getAll(round)));
    return (await Promise.all(lists)).flat().map((x) => x.event);
  }

  /** refused lists what the server did not keep, as {round, event, reason}. It stays until
   * a person has seen it and it is forgotten. */
  refused() { return result(this.#read("refused").getAll()); }

  /** forget drops a refused event. */
  async forget(id) {
    const t = this.#db.transaction("refused", "readwrite");
    t.objectStore("refused").delete(id);
    await kept(t);
    await this.#changed();
  }

  /** send tries now, however long the queue would have waited. */
  async send() {
    if (this.#closed) return;
    if (this.#sending) {
      this.#again = true;
      return;
    }
    this.#sending = true;
    clearTimeout(this.#timer);
    let wait = -1;
    try {
      wait = await this.#alone(() => this.#pass());
    } catch (error) {
      this.#trouble = String(error);
      wait = this.#backOff();
    }
    this.#sending = false;
    if (this.#closed) return;
    if (this.#again && wait < 0) wait = 0;
    this.#again = false;
    if (wait >= 0) this.#timer = setTimeout(() => this.send(), wait);
    await this.#tell();
  }

  /** close ends sending; what waits stays on the device. */
  close() {
    this.#closed = true;
    clearTimeout(this.#timer);
    removeEventListener("online", this.#wake);
    document.removeEventListener("visibilitychange", this.#wake);
    this.#channel?.close();
    this.#db.close();
  }

  #read(store) { return this.#db.transaction(store).objectStore(store); }

  #wake = () => {
    if (document.visibilityState !== "visible") return;
    this.#failures = 0;
    this.send();
  };

  /** alone lets one window of this device send at a time, where the browser can tell; two
   * would do no harm. */
  #alone(work) {
    if (!navigator.locks) return work();
    return navigator.locks.request(name, { ifAvailable: true }, (lock) => lock ? work() : this.#options.first);
  }

  /** pass sends what waits, round by round. A round that the server fails on does not hold
   * up the others. It returns after how many ms to try again; -1 is not at all. */
  async #pass() {
    let failed = false, after = 0;
    for (const round of await this.#rounds()) {
      for (;;) {
        const list = await result(this.#read("events").index("round").getAll(round, this.#size));
        if (!list.length || this.#closed) break;
        await this.#tell();
        const answer = await this.#post(round, list.map((x) => x.event));
        if (this.#closed) return -1;
        if (await this.#settle(round, list, answer)) continue;
        failed = true;
        after = Math.max(after, answer.after ?? 0);
        this.#trouble = answer.away ? "The server can not be reached." : answer.body?.detail ?? `The server answered ${answer.status}.`;
        this.#away = Boolean(answer.away);
        if (answer.away) return this.#backOff();
        break;
      }
    }
    if (failed) return Math.max(this.#backOff(), after);
    [this.#failures, this.#trouble, this.#away] = [0, "", false];
    return -1;
  }

  /** rounds lists the rounds that have events. */
  #rounds() {
    return new Promise((done, fail) => {
      const list = [], request = this.#read("events").index("round").openKeyCursor(null, "nextunique");
      request.onsuccess = () => {
        if (!request.result) return done(list);
        list.push(request.result.key);
        request.result.continue();
      };
      request.onerror = () => fail(request.error);
    });
  }

  #backOff() {
    const wait = Math.min(this.#options.most, this.#options.first * 2 ** Math.min(this.#failures++, 16));
    return wait * (0.5 + Math.random() / 2); // not all devices at one moment
  }

  /** post sends events and returns {status, body, problem, after}, or {away}. */
  async #post(round, events) {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), patience);
    try {
      const answer = await fetch(`/api/v1/rounds/${encodeURIComponent(round)}/ticks`, {
        method: "POST", headers: { "Content-Type": "application/json", Accept: "application/json" },
        body: JSON.stringify({ events }), signal: stop.signal,
      });
      return {
        status: answer.status, body: await answer.json().catch(() => null),
        problem: (answer.headers.get("Content-Type") ?? "").startsWith("application/problem+json"),
        after: 1000 * (Number(answer.headers.get("Retry-After")) || 0),
      };
    } catch {
      return { away: true };
    } finally {
      clearTimeout(timer);
    }
  }

  /** settle takes out of the queue what the answer speaks for; false is that the rest must
   * wait. An answer that is not the server's own, as of a network that wants a sign-in
   * first, speaks for nothing. */
  async #settle(round, list, { status, body, problem, away }) {
    if (away) return false;
    if (status === 200 && Array.isArray(body?.events)) {
      const outcomes = new Map(body.events.map((e) => [e.id, e]));
      const spoken = list.filter((x) => ["accepted", "known", "refused"].includes(outcomes.get(x.event.id)?.outcome));
      if (!spoken.length) return false;
      await this.#takeOut(spoken, ({ event: { id } }) => outcomes.get(id).outcome === "refused" && (outcomes.get(id).reason || "The server gave no reason."));
      this.#size = batch;
      if (body.round) this.#options.onAnswer(round, body.round);
      return true;
    }
    if (!problem || status < 400 || status >= 500 || [401, 403, 408, 421, 429].includes(status)) return false;
    const bad = new Map((body?.errors ?? []).map((e) => [Number(/^body\.events\[(\d+)\]/.exec(e.location)?.[1] ?? -1), e.message]));
    const why = body?.detail ?? `The server answered ${status}.`;
    const named = list.filter((_, i) => bad.has(i));
    if (named.length) await this.#takeOut(named, (x) => bad.get(list.indexOf(x)) || why);
    else if (list.length === 1 || status === 404) await this.#takeOut(list, () => why);
    else this.#size = Math.ceil(list.length / 2); // find the one that is at fault
    return true;
  }

  /** forgetSent forgets what was sent long ago. */
  async #forgetSent() {
    const t = this.#db.transaction("sent", "readwrite");
    const request = t.objectStore("sent").index("when").openCursor(IDBKeyRange.upperBound(Date.now() - remembers));
    request.onsuccess = () => {
      request.result?.delete();
      request.result?.continue();
    };
    await kept(t);
  }

  /** takeOut takes events out of the queue; those with a reason go to the refused ones,
   * the others to those that were sent. */
  async #takeOut(list, reason) {
    const t = this.#db.transaction(["events", "refused", "sent"], "readwrite", { durability: "strict" });
    const done = kept(t);
    for (const x of list) {
      const why = reason(x);
      if (why) t.objectStore("refused").put({ round: x.round, event: x.event, reason: why });
      else t.objectStore("sent").put({ round: x.round, event: x.event, when: Date.now() });
      t.objectStore("events").delete(x.number);
    }
    await done;
    await this.#changed();
  }

  /** changed tells this window and the others. */
  async #changed() {
    this.#channel?.postMessage("");
    await this.#tell();
  }

  async #tell() {
    if (this.#closed) return;
    const [pending, refused] = await Promise.all([this.pending(), result(this.#read("refused").count())]);
    this.#options.onChange({ pending, refused, sending: this.#sending, trouble: this.#trouble, away: this.#away });
  }
}
