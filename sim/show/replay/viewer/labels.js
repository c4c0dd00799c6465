// Words over the scene: heights on a post, floor and entry height, north, the aeroplanes.

class Labels {
  constructor(canvas) {
    this.canvas = canvas;
    this.pen = canvas.getContext("2d");
  }

  clear(colours, ratio) {
    this.ratio = ratio;
    this.colours = colours;
    this.pen.clearRect(0, 0, this.canvas.width, this.canvas.height);
    this.pen.font = `${12 * ratio}px system-ui, "DejaVu Sans", sans-serif`;
    this.pen.textBaseline = "middle";
    this.taken = [];
  }

  // Where a point of the scene lies in the picture [pixels]; null where it is not seen.
  spot(view, point) {
    const share = landed(view.matrix, point);
    if (!share) return null;
    const [left, bottom, wide, high] = view.rectangle;
    const top = this.canvas.height - bottom - high;
    const [x, y] = [left + share[0] * wide, top + share[1] * high];
    const inside = x > left && x < left + wide && y > top && y < top + high;
    return inside ? [x, y] : null;
  }

  // Writes at a place unless another word is there already.
  write(view, text, spot, colour = this.colours.ink) {
    if (!spot) return;
    const { pen, ratio } = this;
    const wide = pen.measureText(text).width;
    const [left, , room] = view.rectangle;
    const x = Math.min(spot[0] + 6 * ratio, left + room - wide - 4 * ratio);
    const box = [x, spot[1] - 8 * ratio, x + wide, spot[1] + 8 * ratio];
    const clash = this.taken.some(
      (b) => box[0] < b[2] && box[2] > b[0] && box[1] < b[3] && box[3] > b[1],
    );
    if (clash) return;
    this.taken.push(box);
    pen.lineWidth = 3 * ratio;
    pen.lineJoin = "round";
    pen.strokeStyle = this.colours.halo;
    pen.strokeText(text, x, spot[1]);
    pen.fillStyle = colour;
    pen.fillText(text, x, spot[1]);
  }

  // The corner that lies furthest left in the view, of those seen at a height.
  leftmost(view, corners, height) {
    const seen = corners
      .map((corner) => this.spot(view, plus(corner, [0, 0, -height])))
      .filter(Boolean)
      .sort((a, b) => a[0] - b[0]);
    return seen[0] || null;
  }

  draw(view, scene, told) {
    const corners = scene.corners();
    for (const { letter, now } of view.letters) {
      this.write(view, letter, this.spot(view, plus(now.position, [0, 0, -view.lift])));
    }
    const above = (height) => {
      const spot = this.leftmost(view, corners, height);
      return spot && [spot[0], spot[1] - 9 * this.ratio];
    };
    this.write(view, `floor ${measured("height", told.floor_m)}`, above(told.floor_m), this.colours.floorInk);
    this.write(view, `entry ${measured("height", told.entry_m)}`, above(told.entry_m));
    const { post } = UNITS.height;
    for (let height = post; height <= scene.topOfPosts() + 0.01; height += post) {
      this.write(view, measured("height", height), this.leftmost(view, corners, height));
    }
    const { middle, half } = scene.room;
    this.write(view, "north", this.spot(view, plus(middle, [half[0] + 12, 0, 0])));
    if (view.caption) {
      const [left, bottom, , high] = view.rectangle;
      const top = this.canvas.height - bottom - high;
      this.write(view, view.caption, [left + 4 * this.ratio, top + 14 * this.ratio]);
    }
  }
}
