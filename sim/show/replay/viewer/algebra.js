// Vectors are arrays of three, in metres north, east and down of the start (down counts from
// the ground). Matrices are 4 by 4, column by column, as WebGL takes them.

const minus = (a, b) => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const plus = (a, b, share = 1) => [
  a[0] + share * b[0], a[1] + share * b[1], a[2] + share * b[2],
];
const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const size = (a) => Math.hypot(a[0], a[1], a[2]);
const unit = (a) => a.map((x) => x / (size(a) || 1));
const cross = (a, b) => [
  a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0],
];
const between = (x, least, most) => Math.min(most, Math.max(least, x));
const mix = (a, b, share) => a + (b - a) * share;
const radians = (degrees) => (degrees * Math.PI) / 180;

function product(a, b) {
  const out = new Float32Array(16);
  for (let column = 0; column < 4; column++) {
    for (let row = 0; row < 4; row++) {
      let sum = 0;
      for (let k = 0; k < 4; k++) sum += a[4 * k + row] * b[4 * column + k];
      out[4 * column + row] = sum;
    }
  }
  return out;
}

// The matrix whose columns are three axes and an origin.
function framed(x, y, z, origin) {
  return new Float32Array([...x, 0, ...y, 0, ...z, 0, ...origin, 1]);
}

function boxed(middle, sizes) {
  return framed([sizes[0], 0, 0], [0, sizes[1], 0], [0, 0, sizes[2]], middle);
}

// The three body axes in north, east, down, of a quaternion from body to north, east, down.
function axesOf([w, x, y, z]) {
  return [
    [1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y)],
    [2 * (x * y - w * z), 1 - 2 * (x * x + z * z), 2 * (y * z + w * x)],
    [2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)],
  ];
}

// From one attitude to the next along the way their signs tell, which may be the longer one.
function turnBetween(a, b, share) {
  const alike = between(a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3], -1, 1);
  const angle = Math.acos(alike);
  const sine = Math.sin(angle);
  const [before, after] =
    sine < 1e-4
      ? [1 - share, share]
      : [Math.sin((1 - share) * angle) / sine, Math.sin(share * angle) / sine];
  const out = a.map((x, i) => before * x + after * b[i]);
  const length = Math.hypot(...out) || 1;
  return out.map((x) => x / length);
}

// A turn by an angle about an axis through a point.
function hinged(point, axis, angle) {
  const [x, y, z] = unit(axis);
  const half = Math.sin(angle / 2);
  const [a, b, c] = axesOf([Math.cos(angle / 2), half * x, half * y, half * z]);
  const turned = [0, 1, 2].map((i) => a[i] * point[0] + b[i] * point[1] + c[i] * point[2]);
  return framed(a, b, c, minus(point, turned));
}

function perspective(field, aspect, near, far) {
  const scale = 1 / Math.tan(field / 2);
  const depth = 1 / (near - far);
  return new Float32Array([
    scale / aspect, 0, 0, 0, 0, scale, 0, 0,
    0, 0, (near + far) * depth, -1, 0, 0, 2 * near * far * depth, 0,
  ]);
}

function looking(eye, target, up) {
  const back = unit(minus(eye, target));
  const right = unit(cross(up, back));
  const above = cross(back, right);
  const rows = [right, above, back];
  const out = new Float32Array(16);
  rows.forEach((row, i) => {
    for (let k = 0; k < 3; k++) out[4 * k + i] = row[k];
    out[12 + i] = -dot(row, eye);
  });
  out[15] = 1;
  return out;
}

// Where a point lands in a view: shares of its width and height from the top left corner.
function landed(matrix, point) {
  const [x, y, , w] = [0, 1, 2, 3].map(
    (row) =>
      matrix[row] * point[0] + matrix[4 + row] * point[1] + matrix[8 + row] * point[2] +
      matrix[12 + row],
  );
  return w <= 0 ? null : [0.5 + (0.5 * x) / w, 0.5 - (0.5 * y) / w];
}
