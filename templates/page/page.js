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
      if (typeof value === "string" && value !== "" && name !== "token" && name !== "step") fields.append(name, value);
    }
    return fields.toString();
  };

  // A form with data-live: what it says so far is asked of the server and shown in the place named by data-into.
  for (const form of document.querySelectorAll("form[data-live]")) {
    const place = document.getElementById(form.dataset.into);
    let before = asked(form);
    let asking;
    const look = async () => {
      const now = asked(form);
      if (now === before) return;
      before = now;
      if (asking) asking.abort();
      asking = new AbortController();
      place.classList.add("busy");
      try {
        const answer = await fetch(`${form.dataset.live}?${now}`, { signal: asking.signal, headers: { Accept: "text/html" } });
        if (!answer.ok) throw new Error(String(answer.status));
        place.innerHTML = await answer.text();
        place.classList.remove("busy");
        if ("address" in form.dataset) history.replaceState(null, "", `${form.action.split("?")[0]}?${now}`);
      } catch (trouble) {
        if (trouble.name !== "AbortError") place.classList.remove("busy");
      }
    };
    form.addEventListener("input", wait(250, look));
    form.addEventListener("change", (event) => {
      if ("reload" in event.target.dataset) { form.querySelectorAll("[name=used]").forEach((box) => { box.checked = false; }); form.submit(); }
    });
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

  // One tap, one step: the server books a step once in any case; this shows that it is under way.
  for (const form of document.querySelectorAll("form[method=post]")) {
    form.addEventListener("submit", () => {
      const button = form.querySelector("button[type=submit]:not(.script-off)");
      if (!button) return;
      if (button.dataset.busy) button.textContent = button.dataset.busy;
      setTimeout(() => { button.disabled = true; }, 0);
      setTimeout(() => { button.disabled = false; }, 20000);
    });
  }

  const refusal = document.querySelector("[data-focus]");
  if (refusal) refusal.focus();
  const here = document.querySelector("header [aria-current]");
  if (here) here.parentElement.parentElement.scrollLeft = here.offsetLeft - 60;
  // A page kept whole by the browser (back button) must not keep a spent form's button shut.
  addEventListener("pageshow", () => document.querySelectorAll("button[disabled]").forEach((button) => { button.disabled = false; }));
})();
