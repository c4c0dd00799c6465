// What was clicked, step by step. A step is done when all its places are there.
const steps = data.steps;
const clicked = Object.fromEntries(steps.map((s) => [s.key, []]));
const lengths = {}, skipped = new Set(), finished = new Set();
let now = 0;

const full = (s) => s.many ? finished.has(s.key) : clicked[s.key].length === s.places.length;
const done = (s) => skipped.has(s.key) || (full(s) && (!s.length || lengths[s.key] > 0));
const waitsForLength = (s) => s.length && full(s) && !(lengths[s.key] > 0);
const allDone = () => steps.every((s) => done(s) || (s.optional && !clicked[s.key].length));

function goOn() {
  if (!done(steps[now])) return;
  const next = steps.findIndex((s, i) => i > now && !done(s));
  now = next >= 0 ? next : Math.max(-1, steps.findIndex((s) => !done(s)));
  if (now < 0) now = steps.length - 1;
}

function set(point) {
  const step = steps[now];
  if (done(step) || full(step)) return false;
  clicked[step.key].push(point.map((v) => Math.round(v * 100) / 100));
  goOn();
  return true;
}

function undo() {
  let step = steps[now];
  const empty = (s) => !clicked[s.key].length && !skipped.has(s.key);
  while (empty(step) && now > 0) step = steps[--now];
  if (skipped.delete(step.key)) return;
  if (step.key in lengths) { delete lengths[step.key]; return; }
  if (finished.delete(step.key)) return;
  clicked[step.key].pop();
}

function again(index) {
  now = index;
  const { key } = steps[index];
  clicked[key] = [];
  delete lengths[key];
  skipped.delete(key);
  finished.delete(key);
}

function skip() {
  const step = steps[now];
  if (!step.optional) return;
  clicked[step.key] = [];
  delete lengths[step.key];
  skipped.add(step.key);
  goOn();
}

function finish() {
  const step = steps[now];
  if (!step.many || clicked[step.key].length < 2) return;
  finished.add(step.key);
  goOn();
}

function takeLength(text, unit) {
  const said = text.trim().replace(",", ".");
  const value = Number(said) * data.units[unit];
  if (said === "" || !(value > 0) || !(value <= 20000)) return false;
  lengths[steps[now].key] = Math.round(value * 1000) / 1000;
  goOn();
  return true;
}

// What is saved: pixels from the picture's top left corner, lengths in mm.
function saved() {
  const out = { schema: data.schema, view: data.view, picture: data.picture, surfaces: {} };
  for (const step of steps) {
    const points = done(step) ? clicked[step.key] : [];
    if (!points.length) continue;
    if (step.surface) out.surfaces[step.key] = points;
    else out[step.key] = points;
    if (step.length) out[`${step.key}_mm`] = lengths[step.key];
  }
  return out;
}

function load(told) {
  if (told.schema !== data.schema || told.view !== data.view || told.picture !== data.picture) {
    return `not loaded: these are points of ${told.picture ?? "something else"}, ${told.view ?? "?"} view`;
  }
  for (const step of steps) {
    const points = step.surface ? told.surfaces?.[step.key] : told[step.key];
    again(steps.indexOf(step));
    if (!points?.length) continue;
    clicked[step.key] = points;
    if (step.many) finished.add(step.key);
    if (step.length) lengths[step.key] = told[`${step.key}_mm`];
  }
  now = Math.max(0, steps.findIndex((s) => !done(s)));
  return "";
}
