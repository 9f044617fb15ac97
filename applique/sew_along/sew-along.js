"use strict";
(() => {
  const root = document.documentElement;
  const key = `sew-along:${root.dataset.pattern}`;
  const lightKey = "sew-along:light";
  const byId = (id) => document.getElementById(id);
  const boxes = [...document.querySelectorAll("main input[type=checkbox]")];
  let keeps = true;

  // Kept in the browser, where it lets us

  const kept = (name) => {
    try { return localStorage.getItem(name); } catch { refused(); return null; }
  };
  const keep = (name, value) => {
    try { value === null ? localStorage.removeItem(name) : localStorage.setItem(name, value); } catch { refused(); }
  };
  const refused = () => {
    if (!keeps) return;
    keeps = false;
    byId("kept").hidden = true;
    byId("not-kept").hidden = false;
  };
  const takeUp = (text) => {
    let names = [];
    try { names = JSON.parse(text || "[]"); } catch { names = []; }
    const ticked = new Set(Array.isArray(names) ? names : []);
    for (const box of boxes) box.checked = ticked.has(box.name);
  };
  const putAway = () => {
    const names = boxes.filter((box) => box.checked).map((box) => box.name);
    keep(key, names.length ? JSON.stringify(names) : null);
  };

  // How much is done

  const soFar = byId("tally").dataset.soFar;
  const parts = [...document.querySelectorAll(".part")].map((part) => {
    const head = byId(part.dataset.of);
    const whole = head.closest(".board, section");
    return { part, boxes: [...whole.querySelectorAll("input[type=checkbox]")] };
  });
  const count = (some) => some.filter((box) => box.checked).length;
  const inWords = (number) => number.toLocaleString(root.lang);
  const told = (done, total) => soFar.replace("{done}", inWords(done)).replace("{total}", inWords(total));
  const show = () => {
    const done = count(boxes);
    byId("tally").textContent = told(done, boxes.length);
    byId("thread").style.width = `${boxes.length ? (100 * done) / boxes.length : 0}%`;
    for (const { part, boxes: own } of parts) {
      const ticked = count(own);
      part.textContent = own.length ? told(ticked, own.length) : "";
      part.classList.toggle("complete", own.length > 0 && ticked === own.length);
    }
    for (const step of document.querySelectorAll(".step")) {
      step.classList.toggle("done", step.querySelector("input").checked);
    }
    byId("next").hidden = done === boxes.length;
  };

  document.querySelector("main").addEventListener("change", () => { putAway(); show(); });
  addEventListener("storage", (event) => {
    if (event.key === key) { takeUp(event.newValue); show(); }
  });
  byId("next").addEventListener("click", (event) => {
    event.preventDefault();
    const next = boxes.find((box) => !box.checked);
    if (!next) return;
    (next.closest(".step, .row, li") || next).scrollIntoView({ block: "start" });
    next.focus({ preventScroll: true });
  });
  for (const whole of document.querySelectorAll(".whole")) {
    whole.hidden = false;
    const own = [...whole.closest("fieldset").querySelectorAll("input")];
    whole.addEventListener("click", () => {
      const all = own.every((box) => box.checked);
      for (const box of own) box.checked = !all;
      putAway();
      show();
    });
  }

  const clearing = byId("clearing");
  byId("clear").addEventListener("click", () => { clearing.returnValue = "keep"; clearing.showModal(); });
  clearing.addEventListener("close", () => {
    if (clearing.returnValue !== "clear") return;
    for (const box of boxes) box.checked = false;
    putAway();
    show();
  });

  // On paper nothing is folded

  const folded = () => document.querySelectorAll("details:not([open])");
  let unfolded = [];
  addEventListener("beforeprint", () => { unfolded = [...folded()]; for (const one of unfolded) one.open = true; });
  addEventListener("afterprint", () => { for (const one of unfolded) one.open = false; });

  // Pictures, larger: first all of one, then as large as a press, a key or two fingers make it

  const large = byId("large");
  const ground = large.querySelector(".ground");
  const smaller = byId("zoom-out");
  const larger = byId("zoom-in");
  const STEP = 1.5;
  let readable = 0;
  let whole = 0;
  let wide = 0;
  const most = () => Math.max(6 * whole, 2 * readable);
  const close = () => Math.max(2 * whole, 1.3 * readable);
  const zoom = (to, at = null) => {
    const frame = ground.getBoundingClientRect();
    const [x, y] = at || [frame.left + frame.width / 2, frame.top + frame.height / 2];
    const picture = ground.querySelector("svg");
    const before = picture.getBoundingClientRect();
    wide = Math.min(Math.max(to, whole), most());
    picture.style.width = `${wide}px`;
    const after = picture.getBoundingClientRect();
    const grown = before.width ? after.width / before.width : 1;
    ground.scrollBy(after.left + (x - before.left) * grown - x, after.top + (y - before.top) * grown - y);
    const isWhole = wide < 1.01 * whole;
    ground.classList.toggle("larger", !isWhole);
    smaller.setAttribute("aria-disabled", String(isWhole));
    larger.setAttribute("aria-disabled", String(wide > 0.99 * most()));
  };
  const seeWhole = () => {
    const picture = ground.querySelector("svg");
    const { width, height } = picture.viewBox.baseVal;
    picture.style.width = "0";
    whole = Math.floor(Math.min(ground.clientWidth, (ground.clientHeight * width) / height));
    zoom(whole);
  };
  for (const button of document.querySelectorAll(".enlarge")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const copy = button.parentElement.querySelector("svg").cloneNode(true);
      copy.querySelectorAll("[id]").forEach((element) => element.removeAttribute("id"));
      copy.removeAttribute("aria-labelledby");
      copy.removeAttribute("aria-describedby");
      copy.setAttribute("aria-label", copy.querySelector("title").textContent);
      readable = Number(copy.getAttribute("width"));
      ground.replaceChildren(copy);
      large.showModal();
      large.querySelector(".plain").focus();
      seeWhole();
    });
  }
  larger.addEventListener("click", () => zoom(STEP * wide));
  smaller.addEventListener("click", () => zoom(wide / STEP));
  large.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "+" || event.key === "=") zoom(STEP * wide);
    else if (event.key === "-") zoom(wide / STEP);
    else if (event.key === "0") zoom(whole);
    else return;
    event.preventDefault();
  });
  let dragged = 0;
  ground.addEventListener("pointerdown", () => { dragged = 0; });
  ground.addEventListener("pointermove", (event) => {
    if (event.pointerType !== "mouse" || event.buttons !== 1) return;
    dragged += Math.abs(event.movementX) + Math.abs(event.movementY);
    ground.scrollBy(-event.movementX, -event.movementY);
  });
  ground.addEventListener("click", (event) => {
    if (dragged < 6) zoom(wide < 1.01 * whole ? close() : whole, [event.clientX, event.clientY]);
  });
  ground.addEventListener("wheel", (event) => {
    if (!event.ctrlKey) return;
    event.preventDefault();
    zoom(wide * Math.exp(-event.deltaY / 200), [event.clientX, event.clientY]);
  }, { passive: false });
  let apart = 0;
  const pinch = (event) => {
    if (event.touches.length !== 2) { apart = 0; return; }
    event.preventDefault();
    const [one, other] = event.touches;
    const now = Math.hypot(one.clientX - other.clientX, one.clientY - other.clientY);
    if (apart) zoom((wide * now) / apart, [(one.clientX + other.clientX) / 2, (one.clientY + other.clientY) / 2]);
    apart = now;
  };
  for (const what of ["touchstart", "touchmove"]) ground.addEventListener(what, pinch, { passive: false });
  addEventListener("resize", () => { if (large.open) seeWhole(); });
  large.addEventListener("close", () => ground.replaceChildren());

  // Where the reader is

  const sections = [...document.querySelectorAll("main > section")];
  const where = byId("where");
  const title = where.textContent;
  let waiting = false;
  const look = () => {
    waiting = false;
    const passed = sections.filter((section) => section.getBoundingClientRect().top < innerHeight / 3);
    const here = passed[passed.length - 1];
    const head = here && !here.classList.contains("cover") ? here.querySelector("h2") : null;
    where.textContent = head ? head.textContent : title;
    for (const link of document.querySelectorAll("nav a")) {
      if (head && link.hash === `#${here.id}`) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
  };
  addEventListener("scroll", () => {
    if (!waiting) { waiting = true; requestAnimationFrame(look); }
  }, { passive: true });

  // Light and dark

  const dark = byId("dark");
  const machine = matchMedia("(prefers-color-scheme: dark)");
  const isDark = () => (root.dataset.light ? root.dataset.light === "dark" : machine.matches);
  const tell = () => dark.setAttribute("aria-checked", String(isDark()));
  dark.addEventListener("click", () => {
    root.dataset.light = isDark() ? "light" : "dark";
    keep(lightKey, root.dataset.light);
    tell();
  });
  machine.addEventListener("change", tell);

  const light = kept(lightKey);
  if (light === "dark" || light === "light") root.dataset.light = light;
  takeUp(kept(key));
  byId("keeping").hidden = false;
  dark.hidden = false;
  tell();
  show();
  look();
})();
