// The picture: the canvas, its views (one, or one a flight), colours, drag and pinch.

const RAMP_TOPS = [30, 45, 60, 90]; // degrees at the end of the ramp

// The end of the ramp for some flights: the first that all but their last peaks keep under.
function rampTop(flights) {
  const sizes = flights.flatMap((flight) => Array.from(flight.columns.alpha_deg, Math.abs));
  const high = sizes.sort((a, b) => a - b)[Math.floor(0.97 * (sizes.length - 1))];
  return RAMP_TOPS.find((top) => high <= top) || RAMP_TOPS[RAMP_TOPS.length - 1];
}

function coloursOf(element) {
  const style = getComputedStyle(element);
  const text = (name) => style.getPropertyValue(name).trim();
  const colour = (name) =>
    [1, 3, 5].map((i) => parseInt(text(`--replay-${name}`).slice(i, i + 2), 16) / 255);
  return {
    sky: colour("sky"), ground: colour("ground"), line: colour("line"),
    postDark: colour("post-dark"), postLight: colour("post-light"), shadow: colour("shadow"),
    floor: colour("floor"), first: colour("first"), second: colour("second"),
    moving: colour("moving"), under: colour("under"), edge: colour("edge"),
    faint: colour("grey"), ramp: [0, 1, 2, 3, 4].flatMap((i) => colour(String(i))),
    ink: text("--ink"), halo: text("--replay-sky"), floorInk: text("--replay-floor-ink"),
  };
}

class Stage {
  constructor(root, part, changed) {
    this.root = root;
    this.view = part("view");
    this.world = part("world");
    this.labels = new Labels(part("labels"));
    this.changed = changed;
    this.trueSize = false;
    this.scale = 1;
    this.split = false;
    this.cameras = new Camera();
    this.start();
    part("missing").hidden = Boolean(this.scene);
    this.world.addEventListener("webglcontextlost", (event) => event.preventDefault());
    this.world.addEventListener("webglcontextrestored", () => {
      this.start();
      this.show(this.flights);
      changed();
    });
    this.listen();
  }

  start() {
    this.colours = coloursOf(this.root);
    const gl = this.world.getContext("webgl2", { alpha: false, antialias: true });
    this.scene = gl ? new Scene(gl, this.colours) : null;
  }

  recolour() {
    this.colours = coloursOf(this.root);
    if (this.scene) this.scene.colours = this.colours;
  }

  show(flights) {
    this.flights = flights;
    this.top = rampTop(flights);
    if (this.scene) this.scene.show(flights, this.top);
  }

  // Rectangles in pixels from the bottom left: the whole, or a half for each flight.
  rectangles() {
    const { width, height } = this.world;
    if (!this.split || this.flights.length < 2) return [[0, 0, width, height]];
    if (width >= height) {
      const half = Math.floor(width / 2);
      return [[0, 0, half - 1, height], [half + 1, 0, width - half - 1, height]];
    }
    const half = Math.floor(height / 2);
    return [[0, half + 1, width, height - half - 1], [0, 0, width, half - 1]];
  }

  fit() {
    this.ratio = Math.min(2, window.devicePixelRatio || 1);
    for (const canvas of [this.world, this.labels.canvas]) {
      const wide = Math.max(2, Math.round(this.view.clientWidth * this.ratio));
      const high = Math.max(2, Math.round(this.view.clientHeight * this.ratio));
      if (canvas.width !== wide) canvas.width = wide;
      if (canvas.height !== high) canvas.height = high;
    }
  }

  draw(states) {
    if (!this.scene) return;
    this.fit();
    this.labels.clear(this.colours, this.ratio);
    const rectangles = this.rectangles();
    rectangles.forEach((rectangle, i) => {
      const alone = rectangles.length > 1;
      const flight = this.flights[i];
      const aspect = rectangle[2] / rectangle[3];
      const numbers = alone ? [i] : this.flights.map((_, k) => k);
      const seen = numbers.map((k) => states[k]);
      this.scale = this.trueSize ? 1 : this.cameras.larger(flight, seen, this.scene.room, aspect);
      const placed = this.cameras.place(flight, seen, this.scene.room, this.scale, aspect);
      const lettered = this.flights.length > 1;
      const view = {
        matrix: this.cameras.matrix(placed, aspect), eye: placed.eye, rectangle, numbers, ratio: this.ratio,
        times: states, scale: this.scale, faded: this.cameras.kind === "chase",
        lift: 0.45 * flight.span * this.scale,
        letters: lettered ? numbers.map((k) => ({ letter: "AB"[k], now: states[k] })) : [],
        caption: alone ? `${"AB"[i]}: ${flight.told.setup}, ${flight.told.verdict}` : "",
      };
      this.scene.draw(view);
      this.labels.draw(view, this.scene, flight.told);
    });
  }

  // One finger or the mouse turns the view, two fingers bring it nearer.
  listen() {
    const held = new Map();
    const apart = () => {
      const [a, b] = [...held.values()];
      return Math.hypot(a[0] - b[0], a[1] - b[1]);
    };
    this.view.addEventListener("pointerdown", (event) => {
      this.view.setPointerCapture(event.pointerId);
      held.set(event.pointerId, [event.clientX, event.clientY]);
    });
    this.view.addEventListener("pointermove", (event) => {
      const before = held.get(event.pointerId);
      if (!before) return;
      const gap = held.size === 2 ? apart() : 0;
      held.set(event.pointerId, [event.clientX, event.clientY]);
      if (held.size === 1) {
        this.cameras.drag(event.clientX - before[0], event.clientY - before[1]);
      } else if (held.size === 2 && gap > 0) this.cameras.zoomBy(apart() / gap);
      this.changed();
    });
    for (const end of ["pointerup", "pointercancel"]) {
      this.view.addEventListener(end, (event) => held.delete(event.pointerId));
    }
    this.view.addEventListener(
      "wheel",
      (event) => {
        // only once the view has been clicked, so that the page still scrolls past it
        if (document.activeElement !== this.view) return;
        event.preventDefault();
        this.cameras.zoomBy(Math.exp(-0.0015 * event.deltaY));
        this.changed();
      },
      { passive: false },
    );
  }
}
