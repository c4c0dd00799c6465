// The picture and how it is seen: a window onto it, in pixels of the picture.
const part = (name) => document.querySelector(`[data-part="${name}"]`);
const data = JSON.parse(part("trace-data").textContent);
const SVG = "http://www.w3.org/2000/svg";
const sheet = part("sheet"), view = part("view");
const picture = { wide: 0, high: 0 };
const seen = { x: 0, y: 0, w: 1, h: 1 };

function drawn(kind, attributes, parent) {
  const made = document.createElementNS(SVG, kind);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  parent.append(made);
  return made;
}

const box = () => sheet.getBoundingClientRect();
const pixel = () => seen.w / Math.max(1, box().width); // pixels of the picture a pixel of the screen

function see() {
  sheet.setAttribute("viewBox", `${seen.x} ${seen.y} ${seen.w} ${seen.h}`);
}

function seeWhole() {
  const { width, height } = box(), shape = Math.max(1, width) / Math.max(1, height);
  seen.w = Math.max(picture.wide, picture.high * shape) * 1.04;
  seen.h = seen.w / shape;
  seen.x = (picture.wide - seen.w) / 2;
  seen.y = (picture.high - seen.h) / 2;
  see();
}

// After the page has changed its size: as much of the picture's width as before.
function fit() {
  const middle = seen.y + seen.h / 2;
  seen.h = seen.w * box().height / Math.max(1, box().width);
  seen.y = middle - seen.h / 2;
  see();
}

// Bring the picture nearer by a factor, the point at (x, y) of it staying where it is.
function nearer(by, x = seen.x + seen.w / 2, y = seen.y + seen.h / 2) {
  const most = 3 * Math.max(picture.wide, picture.high), least = box().width / 20;
  const factor = Math.min(most / seen.w, Math.max(least / seen.w, 1 / by));
  seen.x = x - (x - seen.x) * factor;
  seen.y = y - (y - seen.y) * factor;
  seen.w *= factor;
  seen.h *= factor;
  see();
}

// Bring a point of the picture into the middle, a pixel of it so many on the screen.
function look(x, y, size) {
  Object.assign(seen, { w: box().width / size, h: box().height / size });
  seen.x = x - seen.w / 2;
  seen.y = y - seen.h / 2;
  see();
}

function shift(dx, dy) {
  seen.x -= dx * pixel();
  seen.y -= dy * pixel();
  see();
}

function at(event) {
  const place = box();
  return [seen.x + (event.clientX - place.left) * pixel(), seen.y + (event.clientY - place.top) * pixel()];
}

function onScreen([x, y]) {
  const place = box();
  return [place.left + (x - seen.x) / pixel(), place.top + (y - seen.y) / pixel()];
}

const image = part("image");
const uri = part("trace-picture").textContent.trim();
function loadPicture(done) {
  const probe = new Image();
  probe.onload = () => {
    picture.wide = probe.naturalWidth;
    picture.high = probe.naturalHeight;
    for (const [k, v] of [["href", uri], ["width", picture.wide], ["height", picture.high]]) {
      image.setAttribute(k, v);
    }
    done();
  };
  probe.onerror = () => { part("prompt").textContent = "The picture cannot be shown: save it anew as PNG or JPEG."; };
  probe.src = uri;
}
