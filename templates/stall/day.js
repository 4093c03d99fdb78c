"use strict";
// One market day on a telephone, with no network. Money is whole minor units throughout; nothing here is a fraction.
(() => {
  const DAY = JSON.parse(document.getElementById("day-data").textContent);
  const W = DAY.words;
  const $ = (id) => document.getElementById(id);
  const UNIT = 10 ** DAY.digits;

  // ---- keeping ------------------------------------------------------------------------------------------------
  // The notes of the day live under the day's own key, so two days in two tabs never meet. Where the telephone keeps
  // nothing for a file, the address of the tab does, and the seller is told.
  const KEY = `labelkit stall ${DAY.key} ${DAY.mark}`;
  const EMPTY = { log: [], basket: {}, off: 0, cash: "", fee: "", back: {} };
  let keeper = "storage";
  let state = structuredClone(EMPTY);

  function canKeep() {
    try {
      localStorage.setItem(KEY + " try", "1");
      localStorage.removeItem(KEY + " try");
      return true;
    } catch { return false; }
  }
  if (!canKeep()) keeper = "address";

  function load() {
    let text = null;
    if (keeper === "storage") text = localStorage.getItem(KEY);
    else if (location.hash.length > 1) { try { text = decodeURIComponent(location.hash.slice(1)); } catch { text = null; } }
    if (!text) return;
    try {
      const held = JSON.parse(text);
      if (held && Array.isArray(held.log)) state = { ...structuredClone(EMPTY), ...held };
      else throw new SyntaxError("no notes");
    } catch {
      // What cannot be read is laid aside, not written over.
      try { localStorage.setItem(`${KEY} damaged`, text); } catch { /* there is no room for it */ }
      notice(W.damaged, true);
    }
  }
  function save() {
    const text = JSON.stringify(state);
    try {
      if (keeper === "storage") localStorage.setItem(KEY, text);
      else history.replaceState(null, "", "#" + encodeURIComponent(text));
    } catch {
      if (keeper === "storage") { keeper = "address"; save(); }
      else keeper = "nowhere";
    }
  }
  // Another tab of the same day may have sold meanwhile: read, change, write, every time.
  function change(what) {
    if (keeper === "storage") load();
    what(state);
    save();
    render();
  }

  // ---- money --------------------------------------------------------------------------------------------------
  let shown;
  try { shown = new Intl.NumberFormat(DAY.locale, { style: "currency", currency: DAY.currency }); }
  catch { shown = null; }
  const money = (minor) => shown ? shown.format(minor / UNIT) : `${plain(minor)} ${DAY.currency}`;
  const bare = new Intl.NumberFormat(DAY.locale, { useGrouping: true });
  const note = (minor) => minor % UNIT ? money(minor) : bare.format(minor / UNIT);
  function plain(minor) {
    const digits = String(Math.abs(minor)).padStart(DAY.digits + 1, "0");
    const cut = digits.length - DAY.digits;
    return (minor < 0 ? "-" : "") + digits.slice(0, cut) + (DAY.digits ? "." + digits.slice(cut) : "");
  }
  // Digits with at most one mark between units and parts; anything else is no amount.
  function amount(text) {
    const found = /^(\d{0,9})(?:[.,](\d*))?$/.exec(text.trim());
    if (!found || !(found[1] || found[2]) || (found[2] || "").length > DAY.digits) return null;
    return Number(found[1] || 0) * UNIT + Number((found[2] || "").padEnd(DAY.digits, "0") || 0);
  }
  const coins = (minor) => Math.floor((2 * minor + DAY.cash_step) / (2 * DAY.cash_step)) * DAY.cash_step;
  // What a buyer is likely to hold out: the sum rounded up to the next five, ten, twenty, fifty and so on.
  function likely(due) {
    const found = new Set();
    for (let ten = UNIT; found.size < 5 && ten < UNIT * 10 ** 8; ten *= 10)
      for (const times of [1, 2, 5])
        if (ten * times * 8 >= due && found.size < 5 && Math.ceil(due / (ten * times)) * ten * times > due)
          found.add(Math.ceil(due / (ten * times)) * ten * times);
    return [...found].sort((one, other) => one - other);
  }

  // ---- counting -----------------------------------------------------------------------------------------------
  const standing = () => state.log.filter((entry) => !entry.undone);
  function counts() {
    const found = DAY.items.map(() => ({ sold: 0, given: 0, tasted: 0, broken: 0 }));
    for (const entry of standing())
      for (const [place, count] of Object.entries(entry.items)) found[place][entry.kind] += count;
    return found;
  }
  const gone = (c) => c.sold + c.given + c.tasted + c.broken;
  const left = (place, c = counts()) => DAY.items[place].count - gone(c[place]) - (state.basket[place] || 0);
  const basketSum = () => Object.entries(state.basket).reduce((sum, [place, count]) => sum + DAY.items[place].price * count, 0);
  function till() {
    const found = { cash: 0, card: 0, off: 0, round: 0, sales: 0, jars: 0 };
    for (const entry of standing()) {
      if (entry.kind !== "sold") continue;
      found[entry.pay] += entry.paid;
      found.off += entry.off;
      found.round += entry.round;
      found.sales += 1;
      found.jars += Object.values(entry.items).reduce((a, b) => a + b, 0);
    }
    return found;
  }
  const named = (items) => Object.entries(items).map(([place, count]) => `${count} × ${DAY.items[place].size}`).join(", ");

  // ---- selling ------------------------------------------------------------------------------------------------
  function book(kind, pay, due) {
    const now = new Date();
    change((s) => {
      const list = basketSum();
      const off = kind === "sold" ? s.off : 0;
      s.log.push({
        id: `${now.getTime()}-${Math.floor(Math.random() * 1e9)}`,
        at: `${String(now.getHours()).padStart(2, "0")}:${String(now.getMinutes()).padStart(2, "0")}`,
        kind, pay, items: s.basket, off,
        paid: kind === "sold" ? due : 0,
        round: kind === "sold" ? due - (list - off) : 0,
      });
      s.basket = {};
      s.off = 0;
    });
    const last = state.log[state.log.length - 1];
    const told = kind === "sold" ? `${money(last.paid)} · ${named(last.items)}` : `${W[kind]}: ${named(last.items)}`;
    showUndo(told, last.id);
  }
  let undoId = null;
  // The bar appears where a hasty second tap on “Card” or “Done” lands, so it takes no tap in its first moment.
  function showUndo(text, id) {
    undoId = id;
    $("undo-text").textContent = text;
    $("undo").disabled = true;
    setTimeout(() => { $("undo").disabled = false; }, 700);
    render();
  }
  function strike(id, undone) {
    change((s) => { const entry = s.log.find((e) => e.id === id); if (entry) entry.undone = undone; });
  }

  // ---- panels -------------------------------------------------------------------------------------------------
  const panel = $("panel");
  function open(...parts) { panel.replaceChildren(...parts); if (!panel.open) panel.showModal(); panel.scrollTop = 0; }
  const close = () => panel.close();
  function el(tag, props = {}, ...children) {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(props)) {
      if (name === "class") made.className = value;
      else if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
      else if (name in made) made[name] = value;
      else made.setAttribute(name, value);
    }
    made.append(...children);
    return made;
  }
  const button = (text, onclick, cls = "", id = "") => el("button", { type: "button", class: cls, onclick, ...(id ? { id } : {}) }, text);

  function keypad(typed, onchange) {
    const press = (key) => {
      const text = typed();
      if (key === "⌫") return onchange(text.slice(0, -1));
      if (amount(text + key) === null && key !== DAY.mark_sign) return;
      if (key === DAY.mark_sign && (!DAY.digits || /[.,]/.test(text))) return;
      onchange(text + key);
    };
    const keys = ["1", "2", "3", "4", "5", "6", "7", "8", "9", DAY.digits ? DAY.mark_sign : "00", "0", "⌫"];
    return el("div", { class: "keys" }, ...keys.map((key) => button(key, () => press(key))));
  }

  function cashPanel() {
    const due = coins(basketSum() - state.off);
    let typed = "";
    const backLine = el("p", { class: "back-money", id: "change-line" });
    const done = button(W.done, () => { close(); book("sold", "cash", due); }, "cash", "cash-done");
    const say = () => {
      const given = typed === "" ? null : amount(typed);
      backLine.className = "back-money";
      done.disabled = given !== null && given < due;
      if (given === null) backLine.textContent = typed ? W.unclear : W.how_much;
      else if (given < due) { backLine.className += " short"; backLine.replaceChildren(W.short, el("b", {}, money(due - given))); }
      else backLine.replaceChildren(W.change_back, el("b", {}, money(given - due)));
    };
    const type = (text) => { typed = text; say(); };
    const quick = [due, ...likely(due)].map((sum, place) =>
      button(place ? note(sum) : W.exact, () => type(plain(sum))));
    open(
      el("h2", {}, W.to_pay), el("p", { class: "due" }, money(due)), backLine,
      el("div", { class: "notes" }, ...quick), keypad(() => typed, type),
      el("div", { class: "row" }, button(W.back_button, close), done),
    );
    say();
  }

  function pricePanel() {
    const list = basketSum();
    let typed = "";
    const line = el("p", { class: "back-money" });
    const take = button(W.done, () => {
      const wanted = amount(typed);
      if (wanted !== null && wanted <= list) change((s) => { s.off = list - wanted; });
      close();
    }, "primary", "price-done");
    const say = () => {
      const wanted = typed === "" ? null : amount(typed);
      take.disabled = wanted === null || wanted > list;
      line.replaceChildren(wanted === null ? (typed ? W.unclear : W.other_price) : el("b", {}, money(wanted)));
    };
    open(el("h2", {}, W.list_price), el("p", { class: "due" }, money(list)), line,
      keypad(() => typed, (text) => { typed = text; say(); }),
      el("div", { class: "row" }, button(W.back_button, close), take));
    say();
  }

  function otherPanel() {
    const way = (kind) => button(W[kind], () => { close(); book(kind, "", 0); });
    open(el("h2", {}, named(state.basket)),
      el("div", { class: "stack" }, way("tasted"), way("given"), way("broken"), button(W.back_button, close)));
  }

  // ---- giving the day back ------------------------------------------------------------------------------------
  function crc32(bytes) {
    let crc = ~0;
    for (const byte of bytes) {
      crc ^= byte;
      for (let bit = 0; bit < 8; bit++) crc = (crc >>> 1) ^ (0xedb88320 & -(crc & 1));
    }
    return ((~crc) >>> 0).toString(16).padStart(8, "0");
  }
  const given = (text) => text.trim() === "" ? null : amount(text);
  function backCount(place) {
    const text = (state.back[place] || "").trim();
    return /^\d{1,5}$/.test(text) ? Number(text) : null;
  }
  function dayText() {
    const c = counts(), t = till();
    const core = {
      labelkit: DAY.format, key: DAY.key, mark: DAY.mark, currency: DAY.currency,
      items: DAY.items.map((item, place) =>
        [item.lot, item.size, c[place].sold, c[place].given, c[place].tasted, c[place].broken, backCount(place)]),
      cash_sales: t.cash, cards: t.card, off: t.off, round: t.round, cash: given(state.cash), fee: given(state.fee), sales: t.sales,
    };
    return JSON.stringify({ ...core, check: crc32(new TextEncoder().encode(JSON.stringify(core))) });
  }
  function wrongInputs() {
    return [state.cash, state.fee].some((text) => text.trim() !== "" && amount(text) === null)
      || Object.entries(state.back).some(([place, text]) => text.trim() !== "" && (backCount(place) === null
        || backCount(place) > DAY.items[place].count - gone(counts()[place])));
  }
  function whole(then) { if (wrongInputs()) { notice(W.mend, true); notices(); window.scrollTo(0, 0); } else then(dayText()); }

  $("save").addEventListener("click", () => whole((text) => {
    const withLog = JSON.stringify({ ...JSON.parse(text), log: state.log });
    const link = el("a", { href: URL.createObjectURL(new Blob([withLog], { type: "application/json" })), download: DAY.file });
    document.body.append(link); link.click(); link.remove();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  }));
  $("copy").addEventListener("click", () => whole(async (text) => {
    const area = $("text");
    area.value = text; area.hidden = false; area.focus(); area.select();
    let copied = false;
    try { await navigator.clipboard.writeText(text); copied = true; } catch { try { copied = document.execCommand("copy"); } catch { copied = false; } }
    $("copy").textContent = copied ? W.copied : W.copy_yourself;
  }));
  $("show-code").addEventListener("click", () => whole((text) => {
    const shut = button(W.back_button, close);
    try {
      qrcode.stringToBytes = (s) => Array.from(new TextEncoder().encode(s));
      const code = qrcode(0, "L");
      code.addData(text, "Byte");
      code.make();
      const side = code.getModuleCount(), quiet = 4, cell = Math.max(3, Math.floor(1040 / (side + 2 * quiet)));
      const canvas = el("canvas", { id: "code", width: (side + 2 * quiet) * cell, height: (side + 2 * quiet) * cell });
      const pen = canvas.getContext("2d");
      pen.fillStyle = "#fff"; pen.fillRect(0, 0, canvas.width, canvas.height);
      pen.fillStyle = "#000";
      for (let row = 0; row < side; row++)
        for (let column = 0; column < side; column++)
          if (code.isDark(row, column)) pen.fillRect((column + quiet) * cell, (row + quiet) * cell, cell, cell);
      open(el("h2", {}, DAY.key), canvas, el("p", { class: "hint" }, W.scan), shut);
    } catch { open(el("h2", {}, W.code_too_long), shut); }
  }));

  // ---- showing ------------------------------------------------------------------------------------------------
  const told = new Map();
  function notice(text, stop = false) { told.set(text, stop); }
  function notices() {
    told.delete(W.other_date);
    const now = new Date();
    const iso = `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, "0")}-${String(now.getDate()).padStart(2, "0")}`;
    if (iso !== DAY.day) notice(W.other_date);
    if (keeper === "address") notice(W.address_keeps);
    if (keeper === "nowhere") notice(W.nothing_keeps, true);
    if (!wrongInputs()) told.delete(W.mend);
    $("notices").replaceChildren(...[...told].map(([text, stop]) => el("p", { class: stop ? "stop" : "" }, text)));
  }
  function render() {
    const c = counts(), t = till();
    $("sold-count").textContent = `${W.sold}: ${t.jars}`;
    $("sold-sum").textContent = money(t.cash + t.card);
    $("jars").replaceChildren(...DAY.items.map((item, place) => {
      const there = left(place, c), chosen = state.basket[place] || 0;
      const made = button("", () => change((s) => { if (left(place) > 0) { s.basket[place] = (s.basket[place] || 0) + 1; s.off = 0; } }), "jar");
      made.disabled = there <= 0;
      made.append(el("span", { class: "name" }, item.size), el("span", { class: "price" }, money(item.price)),
        el("span", { class: "left" }, el("b", {}, `${W.left}: ${there}`), el("br"), item.lot), ...(chosen ? [el("span", { class: "in" }, String(chosen))] : []));
      return made;
    }));
    basket();
    entries();
    evening(c, t);
    $("undo-bar").hidden = undoId === null || !$("basket").hidden;
    notices();
  }
  function basket() {
    const chosen = Object.entries(state.basket).filter(([, count]) => count > 0);
    $("basket").hidden = !chosen.length || view !== "sell";
    $("chosen").replaceChildren(...chosen.map(([place, count]) => el("li", {},
      el("span", { class: "what" }, `${count} × ${DAY.items[place].size} · ${money(DAY.items[place].price * count)}`),
      el("button", { type: "button", "aria-label": `− ${DAY.items[place].size}`, onclick: () => change((s) => { s.off = 0; if ((s.basket[place] -= 1) <= 0) delete s.basket[place]; }) }, "−"))));
    $("total").textContent = money(basketSum() - state.off);
    document.body.style.paddingBottom = `${($("basket").hidden ? 90 : $("basket").offsetHeight + 20)}px`;
  }
  function entries() {
    $("entries").replaceChildren(...[...state.log].reverse().map((entry) => el("li", { class: entry.undone ? "undone" : "" },
      el("span", { class: "what" }, named(entry.items), el("small", {}, [entry.at, entry.kind === "sold" ? `${W[entry.pay]} ${money(entry.paid)}` : W[entry.kind]].join(" · "))),
      button(entry.undone ? W.again : W.undo, () => strike(entry.id, !entry.undone)))));
    if (!state.log.length) $("entries").append(el("li", {}, W.nothing_yet));
  }
  function evening(c, t) {
    const busy = document.activeElement && document.activeElement.closest && document.activeElement.closest("#rows");
    if (!busy) $("rows").replaceChildren(...DAY.items.map((item, place) => {
      const rest = item.count - gone(c[place]);
      const field = el("input", { inputMode: "numeric", value: state.back[place] || "", placeholder: String(rest), "aria-label": `${W.brought_back}: ${item.size} ${item.lot}` });
      const judge = () => field.classList.toggle("wrong", field.value.trim() !== "" && (backCount(place) === null || backCount(place) > rest));
      field.addEventListener("input", () => { change((s) => { s.back[place] = field.value; }); judge(); });
      judge();
      return el("tr", {}, el("td", {}, item.size, el("small", {}, item.lot)), el("td", {}, String(item.count)), el("td", {}, String(c[place].sold)),
        el("td", {}, String(c[place].given + c[place].tasted + c[place].broken)), el("td", {}, field));
    }));
    const rows = [[W.float, money(DAY.change)], [W.cash, money(t.cash)], [W.card, money(t.card)], ...(t.off ? [[W.let_off, money(t.off)]] : []), [W.should_be, money(DAY.change + t.cash)]];
    $("money").replaceChildren(...rows.flatMap(([name, value]) => [el("dt", {}, name), el("dd", {}, value)]));
    const counted = given(state.cash);
    $("difference").textContent = counted === null ? "" : `${W.difference}: ${money(counted - DAY.change - t.cash)}`;
    for (const id of ["cash", "fee"]) {
      if (document.activeElement !== $(id)) $(id).value = state[id];
      $(id).classList.toggle("wrong", state[id].trim() !== "" && amount(state[id]) === null);
    }
  }

  let view = "sell";
  function show(name) {
    view = name;
    for (const one of document.querySelectorAll("nav button")) one.classList.toggle("on", one.dataset.view === name);
    for (const one of document.querySelectorAll("main section")) one.hidden = one.id !== name;
    if (name !== "sell") undoId = null;
    render();
  }
  for (const one of document.querySelectorAll("nav button")) one.addEventListener("click", () => show(one.dataset.view));
  for (const id of ["cash", "fee"]) $(id).addEventListener("input", () => change((s) => { s[id] = $(id).value; }));
  $("cash-pay").addEventListener("click", cashPanel);
  $("card-pay").addEventListener("click", () => book("sold", "card", basketSum() - state.off));
  $("other-way").addEventListener("click", otherPanel);
  $("let-off").addEventListener("click", pricePanel);
  $("undo").addEventListener("click", () => { if (undoId) strike(undoId, true); undoId = null; render(); });
  window.addEventListener("storage", (event) => { if (event.key === KEY) { load(); render(); } });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { if (keeper === "storage") load(); render(); } });
  setInterval(notices, 30000);
  $("date").textContent = DAY.shown_day;
  load();
  show("sell");
})();
