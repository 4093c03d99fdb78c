"use strict";
// What typing shows at once. Every form here works without any of this.
(() => {
  document.documentElement.classList.add("scripted");

  const wait = (ms, does) => {
    let timer;
    return () => { clearTimeout(timer); timer = setTimeout(does, ms); };
  };

  const asked = (form) => {
    const fields = new URLSearchParams();
    for (const [name, value] of new FormData(form)) {
      if (typeof value === "string" && (value !== "" || "whole" in form.dataset) && name !== "token" && name !== "step") fields.append(name, value);
    }
    return fields.toString();
  };

  const inSlot = (element) => element.closest("[data-slot]") !== null;

  // The answer with its pictures loaded, so that nothing flickers or jumps while one types.
  const shownWhole = async (text) => {
    const fresh = document.createElement("template");
    fresh.innerHTML = text;
    const whole = document.importNode(fresh.content, true);
    await Promise.all([...whole.querySelectorAll("img")].map((picture) => picture.decode().catch(() => {})));
    return whole;
  };

  // Put the answer in its place, and each part of it that belongs elsewhere into its slot; what was open stays open,
  // and the field that had the keyboard keeps it.
  const put = (place, whole) => {
    const had = document.activeElement && document.activeElement.id;
    const open = [...document.querySelectorAll("details[id][open]")].map((each) => each.id);
    const parts = [...whole.querySelectorAll("template[data-slot]")];
    parts.forEach((part) => part.remove());
    place.replaceChildren(whole);
    for (const part of parts) {
      const slot = document.querySelector(`.slot[data-slot="${part.dataset.slot}"]`);
      if (slot) slot.replaceChildren(part.content);
    }
    open.forEach((id) => { const each = document.getElementById(id); if (each) each.open = true; });
    if (had && document.activeElement.id !== had) { const field = document.getElementById(had); if (field) field.focus({ preventScroll: true }); }
  };

  // A form with data-live: what it says so far is asked of the server and shown in the place named by data-into.
  for (const form of document.querySelectorAll("form[data-live]")) {
    const place = document.getElementById(form.dataset.into);
    let before = asked(form);
    let asking;
    const next = form.querySelector("[data-next]");
    const look = async (take) => {
      const now = asked(form);
      if (now === before && !take) return;
      before = now;
      if (asking) asking.abort();
      asking = new AbortController();
      place.classList.add("busy");
      try {
        const query = take ? `${now}&take=yes` : now;
        const answer = await fetch(`${form.dataset.live}?${query}`, { signal: asking.signal, headers: { Accept: "text/html" } });
        if (!answer.ok) throw new Error(String(answer.status));
        const mine = asking;
        const shown = await shownWhole(await answer.text());
        if (mine !== asking) return;
        put(place, shown);
        place.classList.remove("busy");
        if (take && !place.querySelector(".soon")) { next.value = ""; before = asked(form); }
        if ("address" in form.dataset || take) history.replaceState(null, "", `${form.action.split("?")[0]}?${take ? before : now}`);
      } catch (trouble) {
        if (trouble.name !== "AbortError") place.classList.remove("busy");
      }
    };
    const soon = wait(60, () => look());
    const later = wait(Number(form.dataset.keys || 250), () => look());
    form.addEventListener("input", (event) => {
      if (event.target.type === "range") soon();
      else if (!place.contains(event.target) && !inSlot(event.target)) later();  // what is being mended is not drawn anew under the hand
    });
    form.addEventListener("change", (event) => {
      if ("reload" in event.target.dataset) form.querySelector(".script-off button").click();
      else if (place.contains(event.target) || inSlot(event.target)) soon();
    });
    form.addEventListener("input", (event) => {
      if (event.target.dataset.clears) form.querySelectorAll(`[name=${event.target.dataset.clears}]`).forEach((box) => { box.checked = false; });
    });
    // A button that takes a forbidden word out of the field it stands in.
    form.addEventListener("click", (event) => {
      const button = event.target.closest("[data-takes]");
      if (!button) return;
      event.preventDefault();
      const field = form.elements[button.dataset.takes], out = button.value.toLowerCase();
      field.value = field.value.split("\n").filter((line) => !line.toLowerCase().includes(out)).join("\n");
      field.focus();
      look();
    });
    // A list that grows by one with every Enter: the field is emptied for the next.
    if (next) form.addEventListener("submit", async (event) => {
      event.preventDefault();
      await look(true);
      next.focus();
    });
  }

  // Bars to drag beside the fields they fill in.
  for (const bar of document.querySelectorAll("input[type=range][data-for]")) {
    const field = bar.form.elements[bar.dataset.for];
    const digits = Number(bar.dataset.digits || 0);
    const says = bar.parentElement.querySelector("output");
    const written = () => (bar.value / 10 ** digits).toFixed(digits).replace(".", bar.dataset.mark || ".");
    const show = () => {
      const words = bar.dataset.none && bar.value === bar.max ? bar.dataset.none : written();
      says.textContent = words;
      bar.setAttribute("aria-valuetext", words);
      bar.style.setProperty("--at", `${100 * (bar.value - bar.min) / (bar.max - bar.min || 1)}%`);
    };
    const follow = () => {
      const typed = Number(field.value.replace(bar.dataset.mark || ".", ".")) * 10 ** digits;
      bar.value = field.value.trim() === "" || Number.isNaN(typed) ? (bar.dataset.usual || bar.max) : Math.round(typed);
      show();
    };
    bar.addEventListener("input", () => {
      field.value = bar.value === (bar.dataset.none ? bar.max : bar.dataset.usual) ? "" : written();
      show();
    });
    field.addEventListener("input", follow);
    follow();
  }

  // A form that books what another form shows takes that form's fields along.
  for (const form of document.querySelectorAll("form[data-with]")) {
    form.addEventListener("submit", () => {
      const other = document.getElementById(form.dataset.with);
      const carried = form.querySelector(".carried");
      carried.replaceChildren();
      for (const [name, value] of new FormData(other)) {
        const field = document.createElement("input");
        field.type = "hidden"; field.name = name; field.value = value;
        carried.append(field);
      }
    });
  }

  // A paper opens beside this page; this page goes on to what was booked once it is, and stays where it was refused.
  for (const form of document.querySelectorAll("form[data-then]")) {
    form.addEventListener("submit", () => {
      let tries = 40;
      const ask = async () => {
        const answer = await fetch(form.dataset.then, { redirect: "manual" }).catch(() => ({}));
        if (answer.ok) location.assign(form.dataset.then);
        else if (tries--) setTimeout(ask, 700);
      };
      setTimeout(ask, 700);
    });
  }

  // Enter goes to the next field and books at the last; among the fields with big figures only those count.
  for (const form of document.querySelectorAll("form[method=post]")) {
    form.addEventListener("keydown", (event) => {
      const at = event.target;
      if (event.key !== "Enter" || at.tagName !== "INPUT" || ["checkbox", "radio", "submit", "file"].includes(at.type)) return;
      const big = at.closest(".big") !== null;
      const fields = [...form.querySelectorAll(big ? ".big input" : "input, select, textarea")]
        .filter((field) => field.type !== "hidden" && field.offsetParent !== null);
      const next = fields[fields.indexOf(at) + 1];
      if (!next) return;
      event.preventDefault();
      next.focus();
      if (next.select) next.select();
    });
  }

  // One tap, one step: the server books a step once in any case; this shows that it is under way.
  for (const form of document.querySelectorAll("form[method=post]")) {
    form.addEventListener("submit", (event) => {
      const button = event.submitter || form.querySelector("button[type=submit]:not(.script-off)");
      if (!button) return;
      if (button.dataset.busy) button.textContent = button.dataset.busy;
      setTimeout(() => { button.disabled = true; }, 0);
      setTimeout(() => { button.disabled = false; }, 20000);
    });
  }

  // Work that goes on elsewhere: asked after until it is over, then the whole page is shown anew.
  for (const place of document.querySelectorAll("[data-poll]")) {
    const ask = async () => {
      try {
        const answer = await fetch(place.dataset.poll, { headers: { Accept: "text/html" } });
        if (answer.ok) place.innerHTML = await answer.text();
        if (!answer.ok || place.querySelector("[data-over]")) { location.reload(); return; }
      } catch { /* the program was ended, or the network is away: ask again */ }
      setTimeout(ask, 1000);
    };
    setTimeout(ask, 1000);
  }

  // A code read by the camera, only when somebody asks for it; the picture goes nowhere.
  for (const place of document.querySelectorAll("[data-scan]")) {
    const [start, stop, video, says] = ["[data-start]", "[data-stop]", "video", "[role=status]"].map((part) => place.querySelector(part));
    const tell = (what) => { says.textContent = place.dataset[what] || ""; };
    if (!isSecureContext) { place.hidden = false; start.hidden = true; tell("insecure"); continue; }
    if (!("BarcodeDetector" in window) || !navigator.mediaDevices) continue;
    place.hidden = false;
    let stream;
    const off = () => {
      if (stream) stream.getTracks().forEach((track) => track.stop());
      stream = undefined; video.hidden = stop.hidden = true; start.hidden = false;
    };
    const look = async (detector) => {
      if (!stream) return;
      const found = await detector.detect(video).catch(() => []);
      if (found.length && stream) { off(); location.assign(`${place.dataset.scan}?text=${encodeURIComponent(found[0].rawValue)}`); }
      else setTimeout(() => look(detector), 150);
    };
    start.addEventListener("click", async () => {
      tell("looking");
      try {
        stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
      } catch (trouble) { tell(trouble.name === "NotAllowedError" ? "refused" : "none"); return; }
      video.srcObject = stream; video.hidden = stop.hidden = false; start.hidden = true;
      await video.play();
      look(new BarcodeDetector());
    });
    stop.addEventListener("click", () => { off(); tell(""); start.focus(); });
    addEventListener("pagehide", off);
  }

  // Boxes for words on artwork: dragged, or moved by the arrow keys; their fields say where they are, in millimetres.
  for (const board of document.querySelectorAll("[data-wide]")) {
    const sheet = { left: Number(board.dataset.wide), top: Number(board.dataset.high) };
    const ground = board.querySelector(".ground"), sides = ["left", "top", "width", "height"];
    const point = (text) => Number(text.replace(",", ".").replace(/[^\d.]/g, ""));
    const comma = board.dataset.comma;
    const free = [[0.04, 0.06, 0.5, 0.54], [0.04, 0.66, 0.5, 0.28], [0.58, 0.06, 0.38, 0.88]];
    for (const row of board.querySelectorAll("[data-box]")) {
      const usual = free.shift() || [0.1, 0.1, 0.3, 0.3];
      const fields = sides.map((side) => row.querySelector(`input[name$=":${side}"]`));
      const box = document.createElement("div");
      box.className = "wordbox"; box.tabIndex = 0; box.textContent = row.dataset.box;
      box.setAttribute("role", "group"); box.setAttribute("aria-label", row.dataset.box);
      ground.append(box);
      const show = () => {
        const at = fields.map((field) => point(field.value));
        box.hidden = fields.some((field) => !field.value.trim());
        sides.forEach((side, n) => { box.style[side] = `${100 * at[n] / (n % 2 ? sheet.top : sheet.left)}%`; });
      };
      const put = (values) => {
        const long = [sheet.left, sheet.top];
        // A box stays 1 mm within the edge; one that is moved keeps its size.
        const [wide, high] = [2, 3].map((n) => Math.max(3, Math.min(values[n], [sheet.left, sheet.top][n - 2] - 2)));
        const left = Math.max(1, Math.min(values[0], sheet.left - 1 - wide)), top = Math.max(1, Math.min(values[1], sheet.top - 1 - high));
        values = [left, top, wide, high].map((value) => Math.floor(10 * value + 0.001) / 10);
        fields.forEach((field, n) => { field.value = String(values[n]).replace(".", comma); });
        show();
      };
      const now = () => fields.map((field) => point(field.value));
      box.addEventListener("keydown", (event) => {
        const step = { ArrowLeft: [-0.5, 0], ArrowRight: [0.5, 0], ArrowUp: [0, -0.5], ArrowDown: [0, 0.5] }[event.key];
        if (!step) return;
        event.preventDefault();
        const at = now(), by = event.shiftKey ? 2 : 0;
        at[by] += step[0]; at[by + 1] += step[1];
        put(at);
      });
      box.addEventListener("pointerdown", (event) => {
        box.setPointerCapture(event.pointerId);
        const at = now(), scale = sheet.left / ground.clientWidth, from = [event.clientX, event.clientY];
        const move = (to) => put([at[0] + (to.clientX - from[0]) * scale, at[1] + (to.clientY - from[1]) * scale, at[2], at[3]]);
        box.addEventListener("pointermove", move);
        box.addEventListener("pointerup", () => box.removeEventListener("pointermove", move), { once: true });
      });
      const place = row.querySelector("[data-place]");
      if (place) { place.hidden = false; place.addEventListener("click", () => { put(usual.map((share, n) => share * (n % 2 ? sheet.top : sheet.left))); box.focus(); }); }
      fields.forEach((field) => field.addEventListener("input", show));
      show();
    }
  }

  // What an address points at may stand in a folded part: open it.
  const unfold = () => {
    const at = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!at) return;
    for (let part = at.closest("details"); part; part = part.parentElement.closest("details")) part.open = true;
    at.scrollIntoView();
  };
  addEventListener("hashchange", unfold);
  unfold();

  const refusal = document.querySelector("[data-focus]");
  if (refusal) refusal.focus();
  for (const here of document.querySelectorAll("nav [aria-current]")) here.parentElement.parentElement.scrollLeft = here.offsetLeft - 60;
  // A page kept whole by the browser (back button) must not keep a spent form's button shut.
  addEventListener("pageshow", () => document.querySelectorAll("button[disabled]").forEach((button) => { button.disabled = false; }));
})();
