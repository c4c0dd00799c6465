// A flight as the page carries it: columns packed into whole numbers, and what they mean.

function bytesOf(text) {
  return Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
}

function unpacked({ least, step, bytes, packed, count }) {
  const raw = bytesOf(packed);
  const whole = bytes === 1 ? raw : new Uint16Array(raw.buffer);
  return Float64Array.from({ length: count }, (_, i) => least + step * (whole[i] || 0));
}

// Units of what is told, in which everything else stays metres and m/s; the page may bring others.
const UNITS = {
  height: { symbol: "m", each: 1, post: 20 },
  speed: { symbol: "m/s", each: 1 },
};

class Flight {
  constructor(told, parts) {
    this.told = told;
    this.columns = {};
    this.surfaces = {};
    for (const [name, column] of Object.entries(told.columns)) {
      this.columns[name] = unpacked(column);
    }
    for (const [name, column] of Object.entries(told.surfaces)) {
      this.surfaces[name] = unpacked(column);
    }
    this.times = this.columns.t_s;
    this.count = this.times.length;
    this.end = this.times[this.count - 1];
    this.span = told.span_m;
    this.forward = told.forward_m; // parts are told from the datum, drawn from the balance point
    this.parts = told.parts.map((i) => parts[i]);
  }

  // The row before a time, and the share of the way to the next.
  place(time) {
    let low = 0;
    let high = this.count - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (this.times[middle] <= time) low = middle;
      else high = middle;
    }
    const length = this.times[high] - this.times[low];
    return [low, high, length > 0 ? between((time - this.times[low]) / length, 0, 1) : 0];
  }

  position(i) {
    const { north_m, east_m, up_m } = this.columns;
    return [north_m[i], east_m[i], -up_m[i]];
  }

  turn(i) {
    return ["q0", "q1", "q2", "q3"].map((name) => this.columns[name][i]);
  }

  // Everything at a time: place, attitude, and each column and surface by its name.
  at(time) {
    const [i, j, share] = this.place(time);
    const out = { surfaces: {}, ended: time > this.end };
    for (const [name, values] of Object.entries(this.columns)) {
      out[name] = mix(values[i], values[j], share);
    }
    for (const [name, values] of Object.entries(this.surfaces)) {
      out.surfaces[name] = mix(values[i], values[j], share);
    }
    out.position = plus(this.position(i), minus(this.position(j), this.position(i)), share);
    out.turn = turnBetween(this.turn(i), this.turn(j), share);
    return out;
  }

  lastEvent(time) {
    return this.told.events.filter((event) => event.t_s <= time + 1e-6).pop() || null;
  }

  sameEntry(other) {
    return ["manoeuvre", "draw", "side"].every((key) => this.told[key] === other.told[key]);
  }
}

function loaded(told) {
  const parts = told.parts.map((part) => ({
    ...part,
    vertices: Float32Array.from(unpacked(part.vertices)),
    triangles: Uint16Array.from(unpacked(part.triangles)),
  }));
  Object.assign(UNITS, told.units);
  return told.flights.map((flight) => new Flight(flight, parts));
}

// ------------------------------------------------------------------------- in words

function figure(value, digits = 0) {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
}

// A height or a speed in the page's units, with its symbol.
function measured(kind, value, digits = 0) {
  return `${figure(value * UNITS[kind].each, digits)} ${UNITS[kind].symbol}`;
}

function leaning(value, less, more) {
  const percent = Math.round(100 * Math.abs(value));
  return percent < 2 ? "centred" : `${percent} % ${value > 0 ? more : less}`;
}

function sticksInWords(now) {
  return {
    first: `elevator ${leaning(now.elevator, "forward", "aft")}, ` +
      `aileron ${leaning(now.aileron, "left", "right")}`,
    second: `rudder ${leaning(now.rudder, "left", "right")}, ` +
      `throttle ${Math.round(100 * now.throttle)} %`,
  };
}

// "8° left", or nothing where it rounds to nothing.
function sided(value, before, after) {
  const side = value < 0 ? "left" : "right";
  return Math.abs(value) < 0.5 ? [] : [`${before} ${figure(Math.abs(value))}°${after} ${side}`];
}

function inWords(flight, time) {
  const now = flight.at(time);
  const { stall_alpha_deg: stall, stall_inverted_deg: inverted, floor_m: floor } = flight.told;
  const stalled = now.alpha_deg > stall || now.alpha_deg < -inverted ? " (beyond the stall)" : "";
  const climb = now.climb_mps < 0 ? "sinking" : "climbing";
  const event = flight.lastEvent(time);
  return [
    `${figure(now.t_s, 1)} s${now.ended ? " (ended)" : ""}: height ${measured("height", now.up_m)}`,
    `${measured("height", now.up_m - floor)} above the floor`,
    `angle of attack ${figure(now.alpha_deg)}°${stalled}`,
    ...sided(now.beta_deg, "air comes from", ""),
    `${climb} ${measured("speed", Math.abs(now.climb_mps), 1)} at ${measured("speed", now.speed_mps)}`,
    ...sided(now.r_dps, "yawing", "/s to the"),
    event ? `last: ${event.name}` : "nothing has happened yet",
  ].join(", ");
}
