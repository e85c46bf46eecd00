// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/page/page_script.hpp"

namespace wallfoot {

std::string page_style() {
    return R"css(
.look { margin: .6rem 0; padding: 0; border: 1px solid #999; }
.look .frame { position: relative; overflow: hidden; background: #fff; }
.look img { display: block; width: 100%; height: auto; transform-origin: 0 0; }
.look figcaption, .readout, .line { padding: .2rem .6rem; margin: 0; }
.readout { min-height: 1.5em; font-weight: bold; }
.look:focus, .look:focus-within { outline: 3px solid #1b4dc9; }
.cross, .guess, .place { position: absolute; pointer-events: none; box-sizing: border-box; }
.cross { width: 22px; height: 22px; margin: -11px 0 0 -11px; border: 2px solid #1b4dc9; border-radius: 50%; box-shadow: 0 0 0 2px #fff; }
.guess { font: bold 22px/22px sans-serif; margin: -11px 0 0 -7px; color: #1b4dc9; text-shadow: 0 0 3px #fff, 0 0 3px #fff; }
.place { border: 3px solid #b01f1f; box-shadow: 0 0 0 2px #fff; min-width: 14px; min-height: 14px; }
.bar { display: flex; flex-wrap: wrap; gap: .6rem; align-items: center; margin: .5rem 0; }
.bar button, .bar label, details summary { font: inherit; padding: .35rem .8rem; cursor: pointer; }
.bar input[type=range] { flex: 1 1 14rem; }
.stop { min-height: 1.5em; }
.hidden { display: none; }
.both .pair > .look { border: 0; margin: 0; }
@media screen {
.laid .pair { display: grid; grid-template-columns: minmax(0, 1fr); }
.laid .pair > .look { grid-area: 1 / 1; }
.laid .pair > .look > p, .laid .pair > .look > figcaption { width: 50%; box-sizing: border-box; }
.laid .pair > .look + .look { pointer-events: none; }
.laid .pair > .look + .look > * { pointer-events: auto; }
.laid .pair > .look + .look > .frame { clip-path: inset(0 0 0 var(--line, 50%)); }
.laid .pair > .look + .look > p, .laid .pair > .look + .look > figcaption { margin-left: 50%; text-align: right; }
}
.steptext { font-size: 1.25rem; }
.lesson h2 { font-size: 1.1rem; margin: .4rem 0; }
.lesson legend { font-weight: bold; }
.lesson .question p { margin: .4rem 0; }
.left-out { border-left: 4px solid #b35900; padding-left: .6rem; }
button:focus-visible, input:focus-visible, summary:focus-visible { outline: 3px solid #1b4dc9; outline-offset: 1px; }
/* Picture and words beside one another, all of it on one screen. */
@media screen and (min-width: 60rem) {
.lesson .step { display: grid; grid-template-columns: minmax(20rem, calc((100vh - 15rem) * 1.4)) minmax(19rem, 1fr); grid-template-rows: auto 1fr; column-gap: 1.2rem; }
.lesson .step:has(.both, .switch) { grid-template-columns: minmax(20rem, calc((100vh - 20rem) * 1.4)) minmax(19rem, 1fr); }
.lesson .step.hidden { display: none; }
.lesson .shown { grid-area: 1 / 1 / 3 / 2; min-width: 0; }
.lesson .saying, .lesson .asked { grid-column: 2; min-width: 0; max-width: 44rem; }
}
.keys { color: #444; font-size: .9rem; }
fieldset { border: 1px solid #999; margin: .8rem 0; }
@media print {
.bar, .keys, .readout, .stop, .cross { display: none !important; }
.step.hidden, .state.hidden { display: block !important; }
.look, .question { break-inside: avoid; }
.step { break-before: page; }
.step:first-of-type { break-before: auto; }
.look { outline: none !important; }
.look img { transform: none !important; max-width: 100%; }
details::details-content { content-visibility: visible !important; }
}
)css";
}

std::string page_script() {
    return R"js(
"use strict";
(function () {
  const words = JSON.parse(document.getElementById("words").textContent);
  const stored = JSON.parse(document.getElementById("grids").textContent);
  const grids = {};
  function grid(key) {
    if (!key || !stored[key]) return null;
    if (!grids[key]) {
      const from = stored[key], raw = atob(from.data), values = new Int16Array(raw.length / 2);
      for (let i = 0; i < values.length; ++i) values[i] = raw.charCodeAt(2 * i) | (raw.charCodeAt(2 * i + 1) << 8);
      grids[key] = { cut: from.cut, columns: from.columns, rows: from.rows, values: values };
    }
    return grids[key];
  }
  // Between the four cells around a place that have a value; null where none has.
  function temperature(g, x, y) {
    const [left, bottom, right, top] = g.cut;
    if (x < left || x > right || y < bottom || y > top) return null;
    const c = (x - left) / (right - left) * g.columns - 0.5, r = (top - y) / (top - bottom) * g.rows - 0.5;
    let sum = 0, weight = 0;
    for (const i of [Math.floor(r), Math.floor(r) + 1])
      for (const j of [Math.floor(c), Math.floor(c) + 1]) {
        if (i < 0 || j < 0 || i >= g.rows || j >= g.columns) continue;
        const value = g.values[i * g.columns + j];
        if (value === -32768) continue;
        const w = Math.max(1e-9, (1 - Math.abs(r - i)) * (1 - Math.abs(c - j)));
        sum += w * value / 100, weight += w;
      }
    return weight > 0.2 ? sum / weight : null;
  }
  function say(text, parts) { return text.replace(/\{(\w+)\}/g, (all, name) => name in parts ? parts[name] : all); }

  function view(figure) {
    const frame = figure.querySelector(".frame"), image = frame.querySelector("img"), out = figure.querySelector(".readout");
    const shown = figure.dataset.shown.split(",").map(Number), g = grid(figure.dataset.grid);
    const state = { scale: 1, x: 0, y: 0, cross: null, marks: [] };
    const cross = document.createElement("div");
    cross.className = "cross hidden";
    frame.append(cross);
    function size() { return [frame.clientWidth, frame.clientHeight]; }
    function toMm(px, py) {
      const [w, h] = size();
      const u = (px - state.x) / state.scale / w, v = (py - state.y) / state.scale / h;
      return [shown[0] + u * (shown[2] - shown[0]), shown[3] - v * (shown[3] - shown[1])];
    }
    function toPixels(x, y) {
      const [w, h] = size();
      return [state.x + (x - shown[0]) / (shown[2] - shown[0]) * w * state.scale, state.y + (shown[3] - y) / (shown[3] - shown[1]) * h * state.scale];
    }
    // In shares of the frame, whatever its size is.
    function placeMarks(scale, x, y) {
      for (const mark of state.marks) {
        const [left, bottom, right, top] = mark.rect, style = mark.node.style, wide = shown[2] - shown[0], high = shown[3] - shown[1];
        style.left = "calc(" + x + "px + " + (left - shown[0]) / wide * scale * 100 + "%)";
        style.top = "calc(" + y + "px + " + (shown[3] - top) / high * scale * 100 + "%)";
        if (mark.wide) style.width = (right - left) / wide * scale * 100 + "%", style.height = (top - bottom) / high * scale * 100 + "%";
      }
    }
    function place() {
      const [w, h] = size();
      if (!w || !h) return;  // not shown; placed again when it is
      state.scale = Math.min(20, Math.max(1, state.scale));
      state.x = Math.min(0, Math.max(w - w * state.scale, state.x));
      state.y = Math.min(0, Math.max(h - h * state.scale, state.y));
      image.style.transform = "translate(" + state.x + "px," + state.y + "px) scale(" + state.scale + ")";
      placeMarks(state.scale, state.x, state.y);
      if (state.cross) {
        const [px, py] = toPixels(state.cross[0], state.cross[1]);
        cross.style.left = px + "px", cross.style.top = py + "px";
      }
      figure.dataset.zoom = state.scale.toFixed(2);
    }
    function tell(x, y) {
      const t = g ? temperature(g, x, y) : null;
      const where = { x: x.toFixed(0), y: y.toFixed(0), t: t === null ? "" : t.toFixed(1) };
      // What is asked for is not told before.
      const secret = figure.dataset.secret === "yes";
      out.textContent = !g ? "" : t === null ? say(words.air, where) : secret ? say(words.secret, where) : say(words.here, where);
    }
    function zoom(factor, px, py) {
      const before = state.scale;
      state.scale = Math.min(20, Math.max(1, state.scale * factor));
      state.x = px - (px - state.x) * state.scale / before;
      state.y = py - (py - state.y) * state.scale / before;
      place();
    }
    function local(event) {
      const box = frame.getBoundingClientRect();
      return [event.clientX - box.left, event.clientY - box.top];
    }
    let pressed = null;
    frame.addEventListener("wheel", event => {
      // With nothing to zoom out of, the page scrolls.
      if (event.deltaY === 0 || (event.deltaY > 0 && state.scale <= 1)) return;
      event.preventDefault();
      zoom(Math.pow(1.0015, -event.deltaY), ...local(event));
    }, { passive: false });
    frame.addEventListener("pointerdown", event => { pressed = { at: local(event), x: state.x, y: state.y, moved: false }; figure.focus({ preventScroll: true }); });
    frame.addEventListener("pointermove", event => {
      const at = local(event);
      if (pressed && event.buttons & 1) {
        if (Math.hypot(at[0] - pressed.at[0], at[1] - pressed.at[1]) > 5) pressed.moved = true;
        if (pressed.moved) state.x = pressed.x + at[0] - pressed.at[0], state.y = pressed.y + at[1] - pressed.at[1], place();
      }
      tell(...toMm(...at));
    });
    frame.addEventListener("pointerup", event => {
      if (pressed && !pressed.moved) figure.dispatchEvent(new CustomEvent("picked", { detail: toMm(...local(event)) }));
      pressed = null;
    });
    image.addEventListener("dragstart", event => event.preventDefault());
    figure.addEventListener("keydown", event => {
      if (event.ctrlKey || event.altKey || event.metaKey) return;  // the browser's own
      const [w, h] = size(), step = (shown[2] - shown[0]) / 100 / state.scale * (event.shiftKey ? 5 : 1);
      const middle = toMm(w / 2, h / 2);
      const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
      if (event.key === "+" || event.key === "=") zoom(1.3, w / 2, h / 2);
      else if (event.key === "-") zoom(1 / 1.3, w / 2, h / 2);
      else if (event.key === "0") state.scale = 1, state.x = state.y = 0, place();
      else if (ways[event.key]) {
        const from = state.cross || middle, way = ways[event.key];
        state.cross = [Math.min(shown[2], Math.max(shown[0], from[0] + way[0] * step)), Math.min(shown[3], Math.max(shown[1], from[1] + way[1] * step))];
        cross.classList.remove("hidden");
        const [px, py] = toPixels(...state.cross);
        if (px < 0) state.x -= px - 20; if (px > w) state.x -= px - w + 20;
        if (py < 0) state.y -= py - 20; if (py > h) state.y -= py - h + 20;
        place();
        tell(...state.cross);
      } else if (event.key === "Enter" && state.cross) figure.dispatchEvent(new CustomEvent("picked", { detail: state.cross }));
      else return;
      event.preventDefault();
      event.stopPropagation();
    });
    figure.mark = function (rect, kind, text) {
      const node = document.createElement("div");
      node.className = kind;
      node.textContent = text || "";
      frame.append(node);
      state.marks.push({ rect: rect, node: node, wide: kind === "place" });
      place();
    };
    figure.unmark = function () { for (const mark of state.marks) mark.node.remove(); state.marks = []; };
    figure.reset = function () { state.scale = 1, state.x = state.y = 0, state.cross = null; cross.classList.add("hidden"); figure.unmark(); place(); };
    window.addEventListener("resize", place);
    window.addEventListener("beforeprint", () => placeMarks(1, 0, 0));
    window.addEventListener("afterprint", () => placeMarks(state.scale, state.x, state.y));
    place();
  }
  document.querySelectorAll("figure.look").forEach(view);

  // One of several at a time, by buttons or by a slider.
  document.querySelectorAll(".switch").forEach(part => {
    const all = [...part.querySelectorAll(":scope > .state")], bar = part.querySelector(":scope > .bar");
    function show(index) { all.forEach((one, i) => one.classList.toggle("hidden", i !== index)); window.dispatchEvent(new Event("resize")); }
    bar.classList.remove("hidden");
    const range = bar.querySelector("input[type=range]"), stop = part.querySelector(":scope > .stop");
    if (range) {
      const name = bar.querySelector("output");
      const follow = () => {
        const at = Number(range.value);
        show(at);
        name.textContent = all[at].dataset.name;
        stop.textContent = at === 0 ? part.dataset.least : at === all.length - 1 ? part.dataset.most : "";
      };
      range.addEventListener("input", follow);
      follow();
    } else {
      const buttons = [...bar.querySelectorAll("input[type=radio]")];
      buttons.forEach((button, i) => button.addEventListener("change", () => show(i)));
      buttons[0].checked = true;
      show(0);
    }
  });

  // Questions: the guess is held against the answer when that is opened.
  document.querySelectorAll(".question").forEach(part => {
    const data = JSON.parse(part.dataset.answer), details = part.querySelector("details"), out = part.querySelector(".distance");
    const figures = [...part.closest(".step").querySelectorAll("figure.look")], clicks = [];
    const byClick = data.kind === "coldest" || data.kind === "fault";
    const mark = (...what) => figures.forEach(figure => figure.mark(...what));
    const keep = secret => figures.forEach(figure => { figure.dataset.secret = secret && byClick ? "yes" : "no"; });
    figures.forEach(figure => figure.addEventListener("picked", event => {
      if (details.open || !byClick) return;
      clicks.push(event.detail);
      const [x, y] = event.detail;
      mark([x, y, x, y], "guess", "×");
      out.textContent = say(words.marked, { count: clicks.length });
    }));
    function distance(click) {
      if (data.at) return Math.hypot(click[0] - data.at[0], click[1] - data.at[1]);
      return Math.min(...data.places.map(p => Math.hypot(Math.max(p[0] - click[0], 0, click[0] - p[2]), Math.max(p[1] - click[1], 0, click[1] - p[3]))));
    }
    details.addEventListener("toggle", () => {
      if (details.dataset.printed) return;  // open on paper alone
      keep(!details.open);
      if (!details.open) return;
      let said = "";
      if (byClick) {
        if (data.at) mark([data.at[0] - 15, data.at[1] - 15, data.at[0] + 15, data.at[1] + 15], "place");
        if (data.places.length) mark([Math.min(...data.places.map(p => p[0])), Math.min(...data.places.map(p => p[1])), Math.max(...data.places.map(p => p[2])), Math.max(...data.places.map(p => p[3]))], "place");
        if (clicks.length && (data.at || data.places.length)) said = say(words.away, { mm: Math.min(...clicks.map(distance)).toFixed(0) });
      } else if (data.kind === "change") {
        const typed = part.querySelector("input").value.trim().split(/[\s;]+/).filter(one => one).map(one => Number(one.replace(",", "."))).filter(Number.isFinite);
        if (typed.length && data.number !== null) said = say(words.off, { off: typed.map(one => (one > data.number ? "+" : "") + (one - data.number).toFixed(3)).join(", ") });
      } else {
        const chosen = part.querySelector("input:checked");
        if (chosen && data.option !== null) said = Number(chosen.value) === data.option ? words.right : words.wrong;
      }
      out.textContent = said;
    });
    part.again = function () {
      details.open = false;
      clicks.length = 0;
      out.textContent = "";
      part.querySelectorAll("input").forEach(one => { if (one.type === "radio") one.checked = false; else one.value = ""; });
    };
    keep(true);
  });

  // The line between two variants.
  document.querySelectorAll(".both").forEach(part => {
    const figures = [...part.querySelectorAll("figure.look")], bar = part.querySelector(":scope > .bar");
    bar.classList.remove("hidden");
    part.classList.add("laid");
    const range = bar.querySelector("input"), follow = () => figures[1].style.setProperty("--line", range.value + "%");
    range.addEventListener("input", follow);
    follow();
  });

  // On paper all is open.
  window.addEventListener("beforeprint", () => document.querySelectorAll("details:not([open])").forEach(details => { details.dataset.printed = "yes", details.open = true; }));
  window.addEventListener("afterprint", () => document.querySelectorAll("details[data-printed]").forEach(details => { details.open = false, delete details.dataset.printed; }));

  const steps = [...document.querySelectorAll("section.step")];
  if (steps.length) {
    const bar = document.getElementById("ways"), place = document.getElementById("place"), back = document.getElementById("back"), next = document.getElementById("next");
    let at = 0;
    bar.classList.remove("hidden");
    function show(to) {
      if (to < 0 || to >= steps.length) return;
      at = to;
      steps.forEach((step, i) => step.classList.toggle("hidden", i !== at));
      place.textContent = say(words.place, { at: at + 1, of: steps.length });
      back.disabled = at === 0, next.disabled = at === steps.length - 1;
      window.dispatchEvent(new Event("resize"));
      window.scrollTo(0, 0);
    }
    back.addEventListener("click", () => show(at - 1));
    next.addEventListener("click", () => show(at + 1));
    document.getElementById("again").addEventListener("click", () => {
      steps[at].querySelectorAll("figure.look").forEach(figure => figure.reset());
      steps[at].querySelectorAll(".question").forEach(part => part.again());
      steps[at].querySelectorAll("input[type=range]").forEach(range => { range.value = range.defaultValue; range.dispatchEvent(new Event("input")); });
    });
    document.addEventListener("keydown", event => {
      if (event.ctrlKey || event.altKey || event.metaKey) return;
      if (/^(input|textarea|select)$/i.test(event.target.tagName) && event.key !== "PageDown" && event.key !== "PageUp") return;
      if (event.key === "PageDown" || event.key === "ArrowRight") show(at + 1), event.preventDefault();
      if (event.key === "PageUp" || event.key === "ArrowLeft") show(at - 1), event.preventDefault();
    });
    show(0);
  }
  document.documentElement.dataset.ready = "yes";
})();
)js";
}

}  // namespace wallfoot
