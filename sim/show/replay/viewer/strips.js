// Curves over time below each other, with a cursor; a press on one goes to that time.

const RATES = [["p_dps", "roll"], ["q_dps", "pitch"], ["r_dps", "yaw"]];

function stripsOf(flights) {
  const [a] = flights;
  const both = (column) =>
    flights.map((flight, i) => ({ flight, column, kind: i ? "second" : "first" }));
  const turning = flights.map((flight, i) => ({
    title: `rates${flights.length > 1 ? ` of ${"AB"[i]}` : ""}, °/s`, asked: null,
    curves: RATES.map(([column, kind]) => ({ flight, column, kind })), keys: true,
  }));
  const { stall_alpha_deg: stall, floor_m: floor } = a.told;
  return [
    {
      title: "angle of attack, °", curves: both("alpha_deg"),
      asked: { value: stall, text: `stall ${figure(stall)}` },
    },
    { title: "sideslip, °", curves: both("beta_deg"), asked: null },
    {
      title: `height, ${UNITS.height.symbol}`, curves: both("up_m"), each: UNITS.height.each,
      asked: { value: floor, text: `floor ${figure(floor * UNITS.height.each)}` },
    },
    ...turning,
  ];
}

function reach(strip) {
  let [least, most] = [0, 0];
  for (const { flight, column } of strip.curves) {
    for (const value of flight.columns[column]) {
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
  }
  if (strip.asked) most = Math.max(most, strip.asked.value);
  const room = Math.max(1, 0.06 * (most - least));
  return [least < 0 ? least - room : 0, most + room];
}

class Strips {
  constructor(box, seek) {
    this.box = box;
    this.seek = seek;
  }

  show(flights, end) {
    this.end = end;
    this.strips = stripsOf(flights).map((strip) => this.built(strip, flights));
    this.box.replaceChildren(...this.strips.map((strip) => strip.element));
  }

  built(strip, flights) {
    const [least, most] = reach(strip);
    const x = (time) => ((1000 * time) / this.end).toFixed(1);
    const y = (value) => (100 - (100 * (value - least)) / (most - least)).toFixed(1);
    const line = ({ flight, column, kind }) => {
      const points = Array.from(flight.times, (t, i) => `${x(t)} ${y(flight.columns[column][i])}`);
      return `<path class="${kind}" d="M${points.join("L")}"/>`;
    };
    const events = flights[0].told.events.map(
      (event) => `<path class="event" d="M${x(event.t_s)} 0V100"/>`,
    );
    const across = (value, kind) => `<path class="${kind}" d="M0 ${y(value)}H1000"/>`;
    const element = document.createElement("div");
    element.className = "replay-strip";
    element.innerHTML =
      `<p><span>${strip.title}</span>${strip.keys ? this.keys() : ""}<output></output></p>` +
      '<div class="replay-plot"><svg viewBox="0 0 1000 100" preserveAspectRatio="none" ' +
      `aria-hidden="true">${events.join("")}${across(0, "level")}` +
      `${strip.asked ? across(strip.asked.value, "asked") : ""}` +
      `${strip.curves.map(line).join("")}<path class="cursor" d="M0 0V100"/></svg>` +
      `<span style="top:2px">${figure(most * (strip.each || 1))}</span>` +
      `<span style="bottom:2px">${figure(least * (strip.each || 1))}</span>` +
      `${strip.asked ? this.word(strip.asked, y(strip.asked.value)) : ""}</div>`;
    this.listen(element.querySelector(".replay-plot"));
    return {
      ...strip, element, cursor: element.querySelector(".cursor"),
      output: element.querySelector("output"),
    };
  }

  word({ text }, top) {
    const below = Number(top) < 30;
    return `<span class="asked" style="top:calc(${top}% ${below ? "+ 3px" : "- 1em"})">${text}</span>`;
  }

  keys() {
    return RATES.map(
      ([, kind]) =>
        '<span class="replay-key"><svg viewBox="0 0 26 8" aria-hidden="true">' +
        `<path class="${kind}" d="M0 4H26"/></svg>${kind}</span>`,
    ).join("");
  }

  listen(plot) {
    const go = (event) => {
      const room = plot.getBoundingClientRect();
      this.seek((this.end * (event.clientX - room.left)) / room.width);
    };
    plot.addEventListener("pointerdown", (event) => {
      plot.setPointerCapture(event.pointerId);
      go(event);
    });
    plot.addEventListener("pointermove", (event) => {
      if (plot.hasPointerCapture(event.pointerId)) go(event);
    });
  }

  // Moves the cursor; `states` holds each flight with what it does now.
  move(time, states) {
    for (const { cursor, output, curves, each = 1 } of this.strips) {
      cursor.setAttribute("d", `M${((1000 * time) / this.end).toFixed(1)} 0V100`);
      output.textContent = curves
        .map(({ flight, column }) => figure(states.get(flight)[column] * each))
        .join(" / ");
    }
  }
}
