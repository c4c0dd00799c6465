// The slider, and under it what happened when: a word for each event, which goes there.

class Timeline {
  constructor(slider, box, seek) {
    this.slider = slider;
    this.box = box;
    this.seek = seek;
    slider.addEventListener("input", () => seek(Number(slider.value)));
  }

  show(flights, end) {
    this.end = end;
    this.slider.max = end;
    this.bands = flights.map((flight, i) =>
      this.band(flight, flights.length > 1 ? `${"AB"[i]}: ` : ""),
    );
    this.box.replaceChildren(...this.bands.map((band) => band.element));
    this.arrange();
  }

  band(flight, letter) {
    const element = document.createElement("div");
    element.className = "replay-band";
    const marks = flight.told.events.map((event) => {
      const button = document.createElement("button");
      button.type = "button";
      button.textContent = `${letter}${event.name}`;
      button.title = `${figure(event.t_s, 1)} s`;
      button.addEventListener("click", () => this.seek(event.t_s));
      const tick = document.createElement("i");
      tick.className = "replay-tick";
      element.append(tick, button);
      return { button, tick, share: between(event.t_s / this.end, 0, 1) };
    });
    return { element, marks };
  }

  // Puts each word beside its time, in the first row where it meets no other.
  arrange() {
    for (const { element, marks } of this.bands || []) {
      const room = element.clientWidth;
      const rows = [];
      for (const { button, tick, share } of marks) {
        const wide = button.offsetWidth + 4;
        const at = share * room;
        const turned = at + wide > room;
        const from = turned ? at - wide : at;
        let row = rows.findIndex((taken) =>
          taken.every(([a, b]) => from > b || from + wide < a));
        if (row < 0) row = rows.push([]) - 1;
        rows[row].push([from, from + wide]);
        button.classList.toggle("replay-turned", turned);
        button.style.left = turned ? "auto" : `${100 * share}%`;
        button.style.right = turned ? `${100 * (1 - share)}%` : "auto";
        button.style.top = `${1.45 * row}rem`;
        tick.style.left = turned ? `calc(${100 * share}% - 2px)` : `${100 * share}%`;
        tick.style.height = `${1.45 * row}rem`;
      }
      element.style.height = `${1.45 * rows.length}rem`;
    }
  }

  move(time) {
    this.slider.value = time;
    this.slider.setAttribute("aria-valuetext", `${figure(time, 1)} of ${figure(this.end, 1)} s`);
  }
}
