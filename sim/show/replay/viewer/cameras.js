// Where one looks from. Every view depends on the time alone, not on how one got there.

const CAMERAS = ["pilot", "chase", "top", "side"];
const PILOT_AWAY_M = 90; // from the middle of the flight, square to its first direction
const EYE_M = 1.7;
const WIDEST_M = 40; // two flights further apart than twice this: the first is kept in view
// How many times as large as they are aeroplanes are drawn at least, and beyond that so much
// that the span is this share of the picture's shorter side.
const LEAST_LARGER = { pilot: 4, chase: 4, top: 8, side: 8 };
const SPAN_SHARE = { pilot: 0.27, top: 0.18, side: 0.2 };
const FIELD = { pilot: radians(16), chase: radians(42), top: radians(35), side: radians(30) };

// The room that flights take: middle on the ground, half its size, greatest height.
function roomOf(flights) {
  const least = [Infinity, Infinity];
  const most = [-Infinity, -Infinity];
  let height = 0;
  for (const flight of flights) {
    for (let i = 0; i < flight.count; i++) {
      const there = flight.position(i);
      for (const k of [0, 1]) {
        least[k] = Math.min(least[k], there[k]);
        most[k] = Math.max(most[k], there[k]);
      }
      height = Math.max(height, -there[2]);
    }
    height = Math.max(height, flight.told.entry_m);
  }
  return {
    middle: [(least[0] + most[0]) / 2, (least[1] + most[1]) / 2, 0],
    half: [(most[0] - least[0]) / 2 + 20, (most[1] - least[1]) / 2 + 20],
    height,
  };
}

// The direction over the ground around a time; in a steep fall, that of the first second.
function heading(flight, time, around) {
  const first = minus(flight.at(1).position, flight.at(0).position);
  const moved = minus(flight.at(time + around).position, flight.at(time - around).position);
  return Math.atan2(moved[1] + 0.35 * first[1], moved[0] + 0.35 * first[0]);
}

class Camera {
  constructor() {
    this.kind = "chase";
    this.reset();
  }

  reset() {
    this.round = 0;
    this.over = 0;
    this.zoom = 1;
  }

  choose(kind) {
    this.kind = kind;
    this.reset();
  }

  drag(right, down) {
    this.round += right * 0.008;
    this.over += down * 0.006;
  }

  zoomBy(factor) {
    this.zoom = between(this.zoom * factor, 0.3, 12);
  }

  // What to look at: the first of the flights seen, or the middle between two near ones.
  focus(states) {
    const [a, b] = [states[0], states[states.length - 1]].map((now) => now.position);
    const half = minus(b, a).map((x) => x / 2);
    const spread = size(half);
    const share = Math.min(1, WIDEST_M / (spread || 1));
    return { middle: plus(a, half, share), spread: spread * share };
  }

  // How many times as large as it is an aeroplane is drawn, to be seen. Not nearer when zoomed.
  larger(flight, states, room, aspect) {
    const least = LEAST_LARGER[this.kind];
    if (this.kind === "chase") return least;
    const away = heading(flight, 0, 1) - Math.PI / 2;
    const pilot = this.kind === "pilot";
    const distance = pilot
      ? this.pilotAway(room, away)
      : this.fitting(room, this.kind === "top" ? 0 : away, aspect);
    const field = pilot ? this.pilotField(this.focus(states).spread, distance) : FIELD[this.kind];
    const shorter = 2 * distance * Math.tan(field / 2) * Math.min(1, aspect);
    return Math.max(least, (SPAN_SHARE[this.kind] * shorter) / flight.span);
  }

  // Eye and target for a view of flights; `scale` is how large the first of them is drawn.
  place(flight, states, room, scale, aspect) {
    const { middle, spread } = this.focus(states);
    const first = heading(flight, 0, 1);
    const away = first - Math.PI / 2; // the pilot stands to the left of the first direction
    if (this.kind === "pilot") return this.fromGround(middle, spread, room, away);
    if (this.kind === "chase") {
      const back = heading(flight, states[0].t_s, 2.5) + Math.PI;
      const distance = Math.max(2, 4.5 * flight.span * scale) + 2.2 * spread;
      return this.around(middle, back, radians(16), distance / this.zoom);
    }
    const north = this.kind === "top";
    const nearer = between(1 - 1 / this.zoom, 0, 1);
    const whole = plus(room.middle, [0, 0, -room.height / 2]);
    const target = plus(whole, minus(middle, whole), nearer);
    const distance = this.fitting(room, north ? 0 : away, aspect) / this.zoom;
    return north
      ? this.around(target, Math.PI, radians(88), distance)
      : this.around(target, away, radians(5), distance);
  }

  // How far away the whole room fits into the picture, seen from a side or from above.
  fitting(room, away, aspect) {
    const [north, east] = room.half;
    const [c, s] = [Math.abs(Math.cos(away)), Math.abs(Math.sin(away))];
    const half = room.height / 2;
    const [wide, high, deep] =
      this.kind === "top" ? [east, north, half] : [s * north + c * east, half, c * north + s * east];
    const tall = Math.tan(FIELD[this.kind] / 2);
    return deep + 1.12 * Math.max(high / tall, wide / (tall * aspect));
  }

  fromGround(target, spread, room, away) {
    const round = away + this.round;
    const distance = this.pilotAway(room, away);
    const eye = plus(room.middle, [Math.cos(round), Math.sin(round), 0], distance);
    eye[2] = -EYE_M;
    return { eye, target, field: this.pilotField(spread, distance) / this.zoom };
  }

  pilotAway(room, away) {
    return (
      PILOT_AWAY_M + Math.abs(Math.cos(away)) * room.half[0] + Math.abs(Math.sin(away)) * room.half[1]
    );
  }

  pilotField(spread, distance) {
    return Math.max(FIELD.pilot, 2 * Math.atan((1.5 * spread) / distance));
  }

  around(target, round, over, distance) {
    const a = round + this.round;
    const e = between(over + this.over, radians(-20), radians(89));
    const eye = plus(
      target, [Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), -Math.sin(e)], distance,
    );
    eye[2] = Math.min(eye[2], -0.8);
    return { eye, target, field: FIELD[this.kind] };
  }

  // The matrix from north, east, down to the picture, and the eye.
  matrix(placed, aspect) {
    const view = looking(placed.eye, placed.target, [0, 0, -1]);
    return product(perspective(placed.field, aspect, 0.5, 4000), view);
  }
}
