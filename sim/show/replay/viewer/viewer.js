// Puts the parts together: choosing flights, playing, keys, words, and a hook for tests.

const CAMERA_WORDS = { pilot: "the pilot", chase: "behind", top: "above", side: "the side" };
const SPEAK_AFTER_MS = 500;

class Replay {
  constructor(root, flights) {
    const part = (name) => root.querySelector(`[data-part="${name}"]`);
    Object.assign(this, { root, part, flights, time: 0, playing: false, speed: 1 });
    root.classList.add("replay-on");
    const seek = (time) => this.seek(time);
    this.stage = new Stage(root, part, () => this.redraw());
    this.sticks = new Sticks(part("sticks"));
    this.strips = new Strips(part("strips"), seek);
    this.timeline = new Timeline(part("slider"), part("marks"), seek);
    this.listFlights();
    this.listen();
    this.choose(0, null);
    this.look("chase");
    // nothing is said before someone does something
    clearTimeout(this.speaking);
    this.say("");
  }

  // ------------------------------------------------------------------ flights
  listFlights() {
    const named = (flight, i) => new Option(`${flight.told.title}: ${flight.told.verdict}`, i);
    this.part("first").append(...this.flights.map(named));
    this.part("beside").hidden = this.flights.length < 2;
  }

  // Offers for B, those that were flown alike first.
  listSecond() {
    const group = (label, alike) => {
      const out = document.createElement("optgroup");
      out.label = label;
      this.flights.forEach((flight, i) => {
        if (i !== this.first && flight.sameEntry(this.flights[this.first]) === alike) {
          out.append(new Option(`${flight.told.title}: ${flight.told.verdict}`, i));
        }
      });
      return out.children.length ? [out] : [];
    };
    this.part("second").replaceChildren(
      new Option("none", ""), ...group("same entry", true), ...group("other entries", false),
    );
    this.part("second").value = this.second === null ? "" : this.second;
  }

  choose(first, second) {
    this.first = first;
    this.second = second === first ? null : second;
    this.shown = [this.flights[first]];
    if (this.second !== null) this.shown.push(this.flights[this.second]);
    this.end = Math.max(...this.shown.map((flight) => flight.end));
    this.part("first").value = first;
    this.listSecond();
    const pair = this.shown.length > 1;
    this.part("halves").hidden = !pair;
    this.part("pair").hidden = !pair;
    this.stage.show(this.shown);
    this.strips.show(this.shown, this.end);
    this.timeline.show(this.shown, this.end);
    this.part("top").textContent = `${this.stage.top}°`;
    const stall = (100 * this.shown[0].told.stall_alpha_deg) / this.stage.top;
    this.part("stall").style.left = `${between(stall, 0, 100)}%`;
    this.part("stall").title = `stall ${figure(this.shown[0].told.stall_alpha_deg)}°`;
    this.seek(Math.min(this.time, this.end));
  }

  // ------------------------------------------------------------------ time
  seek(time) {
    this.time = between(Number(time) || 0, 0, this.end);
    this.redraw();
    this.speakLater();
  }

  play(on = true) {
    if (on && this.time >= this.end) this.time = 0;
    this.playing = on;
    this.before = null;
    this.part("play").textContent = on ? "Pause" : "Play";
    this.speakLater();
    this.redraw();
  }

  setSpeed(speed) {
    this.speed = speed;
    this.part("speed").value = String(speed);
    this.say(`speed ${this.part("speed").selectedOptions[0].textContent}`);
  }

  changeSpeed(by) {
    const speeds = [...this.part("speed").options].map((option) => Number(option.value));
    const i = speeds.indexOf(this.speed) + by;
    this.setSpeed(speeds[between(i, 0, speeds.length - 1)]);
  }

  tick(stamp) {
    this.waiting = false;
    if (this.playing) {
      const gone = this.before === null ? 0 : Math.min(0.25, (stamp - this.before) / 1000);
      this.before = stamp;
      const from = this.time;
      this.time = Math.min(this.end, this.time + gone * this.speed);
      this.tellPassed(from);
      if (this.time >= this.end) this.play(false);
      this.redraw();
    }
    this.draw();
  }

  // ------------------------------------------------------------------ drawing and words
  redraw() {
    if (this.waiting) return;
    this.waiting = true;
    requestAnimationFrame((stamp) => this.tick(stamp));
  }

  draw() {
    const states = this.shown.map((flight) => flight.at(this.time));
    this.stage.draw(states);
    this.part("larger").textContent = this.stage.trueSize ? "1" : figure(this.stage.scale);
    this.sticks.move(states);
    this.strips.move(this.time, new Map(this.shown.map((flight, i) => [flight, states[i]])));
    this.timeline.move(this.time);
    this.part("words").textContent = this.words();
  }

  words() {
    const letters = this.shown.length > 1 ? ["A: ", "B: "] : [""];
    return this.shown.map((flight, i) => letters[i] + inWords(flight, this.time)).join("\n");
  }

  say(text) {
    this.part("spoken").textContent = text;
  }

  // Tells where things stand once the hand has come to rest.
  speakLater() {
    clearTimeout(this.speaking);
    this.speaking = setTimeout(
      () => this.say(`${this.playing ? "playing. " : ""}${this.words()}`), SPEAK_AFTER_MS,
    );
  }

  tellPassed(from) {
    const letters = this.shown.length > 1 ? ["A: ", "B: "] : [""];
    const passed = this.shown.flatMap((flight, i) =>
      flight.told.events
        .filter((event) => event.t_s > from && event.t_s <= this.time)
        .map((event) => `${letters[i]}${event.name}`));
    if (passed.length) this.say(`${figure(this.time, 1)} s, ${passed.join(", ")}`);
  }

  // ------------------------------------------------------------------ what the hand does
  look(kind) {
    this.stage.cameras.choose(kind);
    for (const button of this.part("cameras").children) {
      button.setAttribute("aria-pressed", String(button.dataset.camera === kind));
    }
    this.say(`looking from ${CAMERA_WORDS[kind]}`);
    this.redraw();
  }

  nearer(factor) {
    this.stage.cameras.zoomBy(factor);
    this.redraw();
  }

  listen() {
    const { part } = this;
    const on = (name, what, then) => part(name).addEventListener(what, then);
    const chosen = (name) => (part(name).value === "" ? null : Number(part(name).value));
    on("first", "change", () => this.choose(chosen("first"), this.second));
    on("second", "change", () => this.choose(this.first, chosen("second")));
    on("play", "click", () => this.play(!this.playing));
    on("speed", "change", () => this.setSpeed(Number(part("speed").value)));
    on("cameras", "click", ({ target }) => target.dataset.camera && this.look(target.dataset.camera));
    on("nearer", "click", () => this.nearer(1.3));
    on("further", "click", () => this.nearer(1 / 1.3));
    on("true", "change", ({ target }) => {
      this.stage.trueSize = target.checked;
      this.redraw();
    });
    on("split", "change", ({ target }) => {
      this.stage.split = target.checked;
      this.redraw();
    });
    this.root.addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => {
      this.timeline.arrange();
      this.redraw();
    }).observe(this.root);
    const dark = window.matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", () => {
      this.stage.recolour();
      this.redraw();
    });
  }

  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey || event.target.matches("select")) return;
    const own = event.target.matches("button, input[type=checkbox]");
    if (event.key === " " && own) return; // the button's own press
    const turn = { ArrowLeft: [-8, 0], ArrowRight: [8, 0], ArrowUp: [0, -8], ArrowDown: [0, 8] };
    const step = { ArrowLeft: -0.1, ArrowRight: 0.1, PageUp: -1, PageDown: 1 }[event.key];
    if (event.shiftKey && turn[event.key]) {
      this.stage.cameras.drag(...turn[event.key]);
      this.redraw();
    } else if (step) this.seek(this.time + step);
    else if (event.key === "Home") this.seek(0);
    else if (event.key === "End") this.seek(this.end);
    else if (event.key === " ") this.play(!this.playing);
    else if (CAMERAS[Number(event.key) - 1]) this.look(CAMERAS[Number(event.key) - 1]);
    else if (event.key === "+" || event.key === "=") this.changeSpeed(1);
    else if (event.key === "-" || event.key === "−") this.changeSpeed(-1);
    else return;
    event.preventDefault();
  }

  // ------------------------------------------------------------------ for tests
  state() {
    return {
      time_s: this.time, end_s: this.end, playing: this.playing, speed: this.speed,
      camera: this.stage.cameras.kind, first: this.first, second: this.second,
      flights: this.flights.length, scale: this.stage.scale, split: this.stage.split,
      drawn: Boolean(this.stage.scene), zoom: this.stage.cameras.zoom,
      round: this.stage.cameras.round,
      now: this.shown.map((flight) => {
        const { position, turn, surfaces, alpha_deg } = flight.at(this.time);
        return { position_m: position, turn, surfaces_deg: surfaces, alpha_deg };
      }),
    };
  }
}

function startReplay() {
  const root = document.querySelector('[data-part="replay"]');
  const told = JSON.parse(document.querySelector('[data-part="replay-data"]').textContent);
  const replay = new Replay(root, loaded(told));
  window.aftlimitReplay = {
    seek: (time) => replay.seek(time),
    state: () => replay.state(),
    play: (on) => replay.play(on),
    choose: (first, second = null) => replay.choose(first, second),
    look: (kind) => replay.look(kind),
  };
}

startReplay();
