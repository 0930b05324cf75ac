"use strict";

// The readings that wait on this phone. Each lies in the page's local store under a
// key of its own from the moment it is saved until the server has answered for it,
// so that neither a lost network nor a closed page loses one, and two open pages
// do not overwrite each other. The key goes with the reading to the server, which
// stores it once however often it comes.
function tankQueue(post, token, changed) {
  const prefix = "tank/reading/";
  const most = 20; // sent at once; the server takes more
  const first = 1000, longest = 30000, patience = 15000; // ms: next try, its longest wait, an answer
  const held = 6000; // ms for which a reading can be taken back before it is sent
  const memory = new Map(); // what the local store does not take
  let keeps = true;
  let state = ""; // "", "sending", "away", "locked", "stale"
  let pause = 0;
  let busy = false;
  let timer = 0;

  function write(name, value) {
    try {
      localStorage.setItem(name, value);
      memory.delete(name);
    } catch {
      keeps = false;
      memory.set(name, value);
    }
  }

  function drop(name) {
    memory.delete(name);
    try {
      localStorage.removeItem(name);
    } catch {
      keeps = false;
    }
  }

  function names() {
    const all = new Set(memory.keys());
    try {
      for (let i = 0; i < localStorage.length; i++) all.add(localStorage.key(i));
    } catch {
      keeps = false;
    }
    return [...all];
  }

  function read(name) {
    let text = memory.get(name);
    if (text === undefined) {
      try {
        text = localStorage.getItem(name);
      } catch {
        keeps = false;
      }
    }
    try {
      return JSON.parse(text ?? "null");
    } catch {
      return null; // not of this page
    }
  }

  function waiting() {
    return names().filter((n) => n.startsWith(prefix)).map(read).filter(Boolean).sort((a, b) => a.at - b.at);
  }

  // A page over plain http has no randomUUID; random bytes it has.
  function newKey() {
    return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
  }

  function add(reading) {
    const now = Date.now();
    const one = { ...reading, key: newKey(), at: now, after: now + held };
    write(prefix + one.key, JSON.stringify(one));
    changed();
    send();
    return one;
  }

  // takeBack takes a reading out that was not sent yet; null when it was.
  function takeBack(key) {
    const one = read(prefix + key);
    if (!one || one.tried) return null;
    drop(prefix + key);
    changed();
    return one;
  }

  function remove(key) {
    drop(prefix + key);
    changed();
  }

  // A clock set back does not hold a reading for longer.
  const ready = (one, now) => one.after <= now || one.after - now > held;

  function later(ms) {
    clearTimeout(timer);
    timer = setTimeout(send, ms);
  }

  function again() {
    state = "away";
    pause = Math.min(longest, Math.max(first, pause * 2));
    later(pause * (0.75 + Math.random() / 2)); // phones that lost one network do not all come back at once
  }

  async function send() {
    if (busy || !token || state === "locked" || state === "stale") return;
    const now = Date.now();
    const all = waiting().filter((one) => !one.refused);
    const due = all.filter((one) => ready(one, now));
    if (due.length === 0) {
      if (all.length) later(Math.min(...all.map((one) => one.after)) - now);
      return;
    }
    clearTimeout(timer);
    const some = due.filter((one) => one.batch === due[0].batch).slice(0, most);
    for (const one of some) write(prefix + one.key, JSON.stringify({ ...one, tried: true }));
    busy = true;
    if (state !== "away") state = "sending";
    changed();
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), patience);
    try {
      const answer = await fetch(post, {
        method: "POST", credentials: "same-origin", redirect: "error", signal: stop.signal,
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({
          token, batch: some[0].batch,
          readings: some.map(({ key, number, set, shot, reading, stage, above_mm, date }) => ({ key, number, set, shot, reading, stage, above_mm, date })),
        }),
      });
      await settle(answer, some);
    } catch {
      again();
    } finally {
      clearTimeout(late);
      busy = false;
      changed();
    }
  }

  async function settle(answer, some) {
    if (answer.status === 401) state = "locked";
    else if (answer.status === 403 || answer.status === 405 || answer.status === 421) state = "stale";
    else if (answer.ok) {
      const said = await answer.json();
      state = "";
      pause = 0;
      for (const one of said.readings) {
        if (one.state === "refused") refuse(one.key, one);
        else drop(prefix + one.key);
      }
      changed(said);
      later(0);
    } else if (answer.status === 400 || answer.status === 404 || answer.status === 413 || answer.status === 422) {
      // Nothing of it was looked at, and sent again it would be the same.
      const why = await answer.json();
      state = "";
      for (const one of some) refuse(one.key, why);
      later(0);
    } else again();
  }

  function refuse(key, why) {
    const one = read(prefix + key);
    if (one) write(prefix + key, JSON.stringify({ ...one, refused: { what: why.what, do: why.do } }));
  }

  function now() {
    pause = 0;
    if (state === "locked") state = ""; // it may have been unlocked elsewhere
    send();
  }
  addEventListener("online", now);
  addEventListener("pageshow", now);
  addEventListener("focus", now);
  addEventListener("storage", () => changed());
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && now());

  return { add, takeBack, remove, waiting, send, write, read, drop, newKey, state: () => state, keeps: () => keeps };
}
