// The page: prompts, points drawn over the picture, fingers, mouse and keys.
const marks = part("marks"), prompt = part("prompt");
const cross = { on: false, x: 0, y: 0 };
let unsaved = false, notice = "";

function say() {
  const step = steps[now], points = clicked[step.key], asks = waitsForLength(step);
  const over = done(step);
  part("count").textContent = `${now + 1} of ${steps.length}: ${step.title}${step.optional ? " (can be skipped)" : ""}`;
  let text = step.many && points.length > 1 ? "Go on along the edge, or say that was the last." : "";
  if (!text) text = `Click ${step.places[Math.min(points.length, step.places.length - 1)]}.`;
  if (asks) text = "Say how long that is.";
  if (over) text = allDone() ? "All there. Look whether the lines lie on the picture, drag what does not, then save the points." : "Done. Choose another line of the list.";
  prompt.textContent = notice || text;
  notice = "";
  part("length").hidden = !asks;
  part("skip").hidden = over || !step.optional;
  part("finish").hidden = !step.many || over || points.length < 2;
  part("save").disabled = !allDone();
}

function list() {
  const rows = steps.map((step, i) => {
    const row = document.createElement("li"), name = document.createElement("span");
    const state = document.createElement("em"), button = document.createElement("button");
    name.textContent = step.title;
    state.textContent = skipped.has(step.key) ? "skipped" : done(step) ? "done"
      : clicked[step.key].length ? `${clicked[step.key].length} set` : step.optional ? "can be skipped" : "";
    button.type = "button";
    button.textContent = clicked[step.key].length || skipped.has(step.key) ? "anew" : "now";
    button.setAttribute("aria-label", `${step.title}: click it ${button.textContent}`);
    button.addEventListener("click", () => { again(i); changed(); view.focus(); });
    if (i === now) row.setAttribute("aria-current", "step");
    row.append(name, state, button);
    return row;
  });
  part("list").replaceChildren(...rows);
}

function draw() {
  marks.replaceChildren();
  const r = pixel();
  for (const step of steps) {
    const points = clicked[step.key];
    if (points.length > 1) {
      const whole = step.surface && full(step) ? [...points, points[0]] : points;
      const kind = step.surface ? "surface" : step.many ? "body" : "known";
      for (const look of ["halo", `line ${kind}`]) {
        drawn("polyline", { points: whole.map((p) => p.join()).join(" "), class: look }, marks);
      }
    }
    points.forEach(([x, y], i) => {
      drawn("circle", { cx: x, cy: y, r: 9 * r, class: "point", "data-key": step.key, "data-index": i }, marks);
      drawn("circle", { cx: x, cy: y, r: 1.6 * r, class: "dot" }, marks);
    });
  }
  if (cross.on) {
    const { x, y } = cross, a = 14 * r;
    drawn("path", { d: `M${x - a} ${y}H${x + a}M${x} ${y - a}V${y + a}`, class: "cross" }, marks);
  }
}

function changed(told = true) {
  unsaved = unsaved || told;
  say();
  list();
  draw();
  if (!part("length").hidden) part("number").focus({ preventScroll: true });
}

// Fingers and mouse: on a point it is dragged, elsewhere the picture is; a short one sets a point.
const down = new Map();
let held = null, moved = 0, pinched = 0;
view.addEventListener("pointerdown", (event) => {
  if (event.button > 0) return;
  view.setPointerCapture(event.pointerId);
  down.set(event.pointerId, event);
  cross.on = false;
  const mark = event.target.closest?.(".point");
  held = mark && down.size === 1 ? mark.dataset : null;
  if (down.size === 1) moved = 0;
  else moved = 100;
  pinched = 0;
});
view.addEventListener("pointermove", (event) => {
  const before = down.get(event.pointerId);
  if (!before) return;
  const dx = event.clientX - before.clientX, dy = event.clientY - before.clientY;
  moved += Math.hypot(dx, dy);
  down.set(event.pointerId, event);
  if (down.size === 2) {
    const [a, b] = [...down.values()];
    const apart = Math.hypot(a.clientX - b.clientX, a.clientY - b.clientY);
    shift(dx / 2, dy / 2);
    const middle = { clientX: (a.clientX + b.clientX) / 2, clientY: (a.clientY + b.clientY) / 2 };
    if (pinched > 0) nearer(apart / pinched, ...at(middle));
    pinched = apart;
  } else if (held && moved > 3) {
    clicked[held.key][held.index] = at(event).map((v) => Math.round(v * 100) / 100);
    unsaved = true;
  } else if (!held && moved > 5) shift(dx, dy);
  draw();
});
function up(event, sets) {
  if (!down.delete(event.pointerId) || down.size) return;
  if (sets && moved <= (held ? 3 : 5)) set(at(event));
  held = null;
  changed(moved <= 5);
}
view.addEventListener("pointerup", (event) => up(event, true));
view.addEventListener("pointercancel", (event) => up(event, false));
view.addEventListener("wheel", (event) => {
  event.preventDefault();
  nearer(Math.exp(-0.0015 * event.deltaY), ...at(event));
  draw();
}, { passive: false });

const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
function moveCross([dx, dy], by) {
  if (!cross.on) Object.assign(cross, { on: true, x: seen.x + seen.w / 2, y: seen.y + seen.h / 2 });
  cross.x += dx * by * pixel();
  cross.y += dy * by * pixel();
  const [x, y] = onScreen([cross.x, cross.y]), place = box();
  if (x < place.left || x > place.right) shift(place.left + place.width / 2 - x, 0);
  if (y < place.top || y > place.bottom) shift(0, place.top + place.height / 2 - y);
}
const KEYS = {
  Enter: () => { if (cross.on) set([cross.x, cross.y]); },
  Backspace: undo, s: skip, f: finish, "+": () => nearer(1.25), "-": () => nearer(0.8),
};
view.addEventListener("keydown", (event) => {
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  if (event.ctrlKey && key === "z") undo();
  else if (event.ctrlKey || event.metaKey || event.altKey) return;
  else if (MOVES[key]) moveCross(MOVES[key], event.shiftKey ? 10 : 1);
  else if (KEYS[key]) KEYS[key]();
  else return;
  event.preventDefault();
  changed();
});

function take() {
  const good = takeLength(part("number").value, part("unit").value);
  part("wrong").textContent = good ? "" : "a number above 0, such as 1150";
  if (!good) return;
  part("number").value = "";
  changed();
  view.focus({ preventScroll: true });
}
part("take").addEventListener("click", take);
part("number").addEventListener("keydown", (event) => { if (event.key === "Enter") take(); });
const press = (name, what) => part(name).addEventListener("click", () => { what(); changed(); });
press("undo", undo);
press("skip", skip);
press("finish", finish);
press("nearer", () => nearer(1.5));
press("further", () => nearer(1 / 1.5));
press("whole", seeWhole);
part("save").addEventListener("click", () => {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify(saved(), null, 1)], { type: "application/json" }));
  link.download = data.saved;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 1000);
  unsaved = false;
  part("then").hidden = false;
});
part("load").addEventListener("change", async (event) => {
  const file = event.target.files[0];
  if (!file) return;
  try {
    notice = load(JSON.parse(await file.text()));
  } catch {
    notice = "not loaded: that file holds no points that this page saved";
  }
  changed(false);
});
addEventListener("beforeunload", (event) => { if (unsaved) event.preventDefault(); });
addEventListener("resize", () => { fit(); draw(); });
for (const unit of Object.keys(data.units)) part("unit").append(new Option(unit, unit));
loadPicture(() => { seeWhole(); changed(false); view.focus({ preventScroll: true }); });
globalThis.aftlimitTrace = {
  saved, clicked, step: () => steps[now],
  look: (...to) => { look(...to); draw(); return onScreen(to); },
};
