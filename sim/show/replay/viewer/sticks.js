// Two boxes with the stick positions. Aft is drawn downwards: the stick comes to the pilot.

const STICK_BOXES = [
  {
    title: "elevator, aileron", words: "first", edges: ["forward", "aft"],
    spot: (now) => [now.aileron, now.elevator],
  },
  {
    title: "rudder, throttle", words: "second", edges: ["full", "idle"],
    spot: (now) => [now.rudder, 1 - 2 * now.throttle],
  },
];

class Sticks {
  constructor(box) {
    this.boxes = STICK_BOXES.map((told) => {
      const place = document.createElement("div");
      place.innerHTML =
        `<b>${told.title}</b><svg viewBox="-8 -2 136 112" aria-hidden="true">` +
        '<rect class="frame" x="20" y="12" width="80" height="80"/>' +
        '<path class="cross" d="M60 12V92M20 52H100"/>' +
        `<text x="60" y="7">${told.edges[0]}</text><text x="60" y="107">${told.edges[1]}</text>` +
        '<text x="6" y="55">left</text><text x="114" y="55">right</text>' +
        '<circle class="ring" r="8"/><circle class="dot" r="6"/></svg><span></span>';
      box.append(place);
      return {
        told, dot: place.querySelector(".dot"), ring: place.querySelector(".ring"),
        words: place.querySelector("span"),
      };
    });
  }

  move(states) {
    for (const { told, dot, ring, words } of this.boxes) {
      [dot, ring].forEach((mark, i) => {
        mark.style.display = states[i] ? "" : "none";
        if (!states[i]) return;
        const [right, down] = told.spot(states[i]).map((x) => between(x, -1, 1));
        mark.setAttribute("cx", 60 + 40 * right);
        mark.setAttribute("cy", 52 + 40 * down);
      });
      words.textContent = sticksInWords(states[0])[told.words];
    }
  }
}
