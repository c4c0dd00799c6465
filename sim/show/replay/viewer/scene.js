// What there is to see: ground, posts, floor, paths and aeroplanes.

const RIBBON_SHARE = 0.22; // half the ribbon's width as a share of the drawn half span
const RIBBON_WIDEST = 8; // times the true size: beyond, the aeroplane grows and its ribbon does not
const OUTLINE_PX = 1.5;
const ROUND = [0, 1, 2, 3, 4, 5, 6, 7].map((i) => [Math.cos((i * Math.PI) / 4), Math.sin((i * Math.PI) / 4)]);
const CUBE = Float32Array.from(
  [0, 1, 2].flatMap((axis) =>
    [-0.5, 0.5].flatMap((side) =>
      [[-1, -1], [1, -1], [1, 1], [-1, -1], [1, 1], [-1, 1]].flatMap(([a, b]) => {
        const out = [0, 0, 0];
        out[axis] = side;
        out[(axis + 1) % 3] = a / 2;
        out[(axis + 2) % 3] = b / 2;
        return out;
      }),
    ),
  ),
);
const SQUARE = Float32Array.from([-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0]);

class Scene {
  constructor(gl, colours) {
    this.gl = gl;
    this.painter = new Painter(gl);
    this.colours = colours;
    this.cube = this.painter.shape(this.painter.solid, [["a_point", 3]], CUBE);
    this.square = this.painter.shape(this.painter.solid, [["a_point", 3]], SQUARE);
    this.flat = this.painter.shape(this.painter.ground, [["a_point", 3]], SQUARE);
    this.shown = [];
  }

  show(flights, top) {
    for (const { ribbon, parts } of this.shown) {
      [ribbon, ...parts.map((part) => part.shape)].forEach((shape) => this.painter.drop(shape));
    }
    this.room = roomOf(flights);
    this.shown = flights.map((flight) => ({
      flight,
      ribbon: this.ribbonOf(flight, top),
      parts: flight.parts.map((part) => ({
        ...part,
        shape: this.painter.shape(
          this.painter.solid, [["a_point", 3]], part.vertices, part.triangles,
        ),
      })),
    }));
  }

  ribbonOf(flight, top) {
    const values = [];
    for (let i = 0; i < flight.count; i++) {
      const across = axesOf(flight.turn(i))[1];
      const share = Math.abs(flight.columns.alpha_deg[i]) / top;
      for (const side of [-1, 1]) {
        values.push(...flight.position(i), ...across, side, share, flight.times[i]);
      }
    }
    const columns = [["a_point", 3], ["a_across", 3], ["a_told", 3]];
    return this.painter.shape(this.painter.ribbon, columns, Float32Array.from(values));
  }

  // One view into a rectangle of the canvas: flights by their numbers.
  draw(view) {
    const { gl, painter, colours } = this;
    const { matrix, eye, rectangle, numbers, times, scale, faded } = view;
    this.pixel = [2 * view.ratio / rectangle[2], 2 * view.ratio / rectangle[3]];
    this.matrix = matrix;
    this.eye = eye;
    gl.viewport(...rectangle);
    gl.scissor(...rectangle);
    gl.enable(gl.SCISSOR_TEST);
    gl.clearColor(...colours.sky, 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.disable(gl.DEPTH_TEST);
    gl.enable(gl.BLEND);
    gl.blendFunc(gl.SRC_ALPHA, gl.ONE_MINUS_SRC_ALPHA);
    this.drawGround();
    const shown = numbers.map((i) => ({ ...this.shown[i], number: i, now: times[i] }));
    for (const one of shown) this.drawAeroplane(one, scale, "shadow");
    gl.enable(gl.DEPTH_TEST);
    this.drawPosts();
    for (const one of shown) this.drawDrop(one);
    gl.depthMask(false); // an outline hides nothing of the body that is drawn over it
    for (const one of shown) this.drawAeroplane(one, scale, "outline");
    gl.depthMask(true);
    for (const one of shown) this.drawAeroplane(one, scale, "body");
    gl.depthMask(false);
    for (const one of shown) this.drawRibbon(one, scale, faded);
    this.drawHeights(shown[0].flight.told);
    gl.depthMask(true);
    painter.gl.bindVertexArray(null);
  }

  solid(shape, model, colour, strength = 1, more = {}, how = this.gl.TRIANGLES) {
    this.painter.use(this.painter.solid, {
      u_view: this.matrix, u_model: model, u_colour: [...colour, strength], u_under: colour,
      u_eye: this.eye, u_middle: [0, 0, 0], u_down: [0, 0, 1], u_shaded: 0, u_shift: [0, 0],
      ...more,
    });
    this.painter.draw(shape, how);
  }

  drawGround() {
    const { colours, room } = this;
    this.painter.use(this.painter.ground, {
      u_view: this.matrix, u_ground: colours.ground, u_line: colours.line, u_sky: colours.sky,
      u_middle: room.middle, u_reach: Math.max(...room.half) + room.height + 400,
    });
    this.painter.draw(this.flat, this.gl.TRIANGLE_FAN);
  }

  corners() {
    const { middle, half } = this.room;
    return [[-1, -1], [-1, 1], [1, 1], [1, -1]].map(([n, e]) => [
      middle[0] + n * half[0], middle[1] + e * half[1], 0,
    ]);
  }

  topOfPosts() {
    const { post } = UNITS.height;
    return Math.ceil(this.room.height / post) * post;
  }

  drawPosts() {
    const { post } = UNITS.height;
    const count = Math.round(this.topOfPosts() / post);
    for (const corner of this.corners()) {
      for (let i = 0; i < count; i += 1) {
        const middle = plus(corner, [0, 0, -(i + 0.5) * post]);
        const colour = i % 2 ? this.colours.postLight : this.colours.postDark;
        this.solid(this.cube, boxed(middle, [0.4, 0.4, post]), colour);
      }
    }
  }

  drawDrop({ now }) {
    const [north, east, down] = now.position;
    const model = boxed([north, east, down / 2], [0.08, 0.08, Math.max(0.01, -down)]);
    this.solid(this.cube, model, this.colours.faint, 0.7);
  }

  // The floor of the verdict as a faint plane, the entry height as a frame.
  drawHeights(told) {
    const { gl, colours, room } = this;
    const sizes = [...room.half, 1];
    const floor = boxed(plus(room.middle, [0, 0, -told.floor_m]), sizes);
    const entry = boxed(plus(room.middle, [0, 0, -told.entry_m]), sizes);
    this.solid(this.square, floor, colours.floor, 0.16, {}, gl.TRIANGLE_FAN);
    this.solid(this.square, floor, colours.floor, 1, {}, gl.LINE_LOOP);
    this.solid(this.square, entry, colours.faint, 1, {}, gl.LINE_LOOP);
  }

  drawRibbon({ flight, ribbon, number, now }, scale, faded) {
    this.painter.use(this.painter.ribbon, {
      u_view: this.matrix, u_half: RIBBON_SHARE * 0.5 * flight.span * Math.min(scale, RIBBON_WIDEST),
      u_ramp: this.colours.ramp, u_edge: this.colours.edge, u_now: now.t_s,
      u_past: faded ? 0.5 : 0.9, u_future: faded ? 0.12 : 0.3, u_broken: number,
    });
    this.painter.draw(ribbon, this.gl.TRIANGLE_STRIP);
  }

  // A dark edge around a shape, so that a pale one is seen against a pale sky, and one edge on.
  outline(shape, model) {
    for (const [right, up] of ROUND) {
      const [x, y] = this.pixel.map((one) => OUTLINE_PX * one);
      this.solid(shape, model, this.colours.edge, 1, { u_shift: [right * x, up * y] });
    }
  }

  drawAeroplane({ flight, parts, number, now }, scale, what) {
    const shadow = what === "shadow";
    const axes = axesOf(now.turn).map((axis) => axis.map((x) => x * scale));
    const down = unit(axes[2]);
    const datum = plus(now.position, axes[0], flight.forward);
    const frame = framed(...axes, datum);
    const flatten = framed([1, 0, 0], [0, 1, 0], [0, 0, 0], [0, 0, 0]);
    const seen = shadow ? product(flatten, frame) : frame;
    const body = number ? this.colours.second : this.colours.first;
    for (const part of parts) {
      const { hinge } = part;
      const degrees = hinge ? now.surfaces[hinge.channel] || 0 : 0;
      const model = degrees
        ? product(seen, hinged(hinge.point, hinge.axis, radians(hinge.sign * degrees)))
        : seen;
      const colour = hinge ? this.colours.moving : body;
      if (shadow) this.solid(part.shape, model, this.colours.shadow);
      else if (what === "outline") this.outline(part.shape, model);
      else {
        this.solid(part.shape, model, colour, 1, {
          u_under: hinge ? colour : this.colours.under, u_middle: now.position, u_down: down, u_shaded: 1,
        });
      }
    }
  }
}
