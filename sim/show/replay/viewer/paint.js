// Three small programs for WebGL2: solid things, the ribbon of the path, the ground.

const SOLID_VERTEX = `#version 300 es
in vec3 a_point;
uniform mat4 u_view, u_model;
uniform vec3 u_middle;
uniform vec2 u_shift;  // share of half the picture
out vec3 v_near;
void main() {
  vec4 there = u_model * vec4(a_point, 1.0);
  v_near = there.xyz - u_middle;
  gl_Position = u_view * there;
  gl_Position.xy += u_shift * gl_Position.w;
}`;

// Flat shading: the face's normal is taken from how its points change across the picture.
const SOLID_FRAGMENT = `#version 300 es
precision highp float;
in vec3 v_near;
uniform vec4 u_colour;
uniform vec3 u_under, u_eye, u_middle, u_down;
uniform float u_shaded;
out vec4 colour;
void main() {
  colour = u_colour;
  if (u_shaded > 0.0) {
    vec3 normal = normalize(cross(dFdx(v_near), dFdy(v_near)));
    if (dot(normal, u_eye - u_middle - v_near) < 0.0) normal = -normal;
    bool below = dot(normal, u_down) > 0.15;
    float light = 0.76 + 0.26 * max(0.0, dot(normal, normalize(vec3(-0.4, 0.5, -0.8))))
      - 0.1 * normal.z;
    colour = below ? vec4(u_under * max(light, 0.9), 1.0) : vec4(u_colour.rgb * light, 1.0);
  }
}`;

const RIBBON_VERTEX = `#version 300 es
in vec3 a_point, a_across;
in vec3 a_told;  // side -1 or 1, angle as a share of the ramp, time
uniform mat4 u_view;
uniform float u_half;
out vec3 v_told;
void main() {
  v_told = a_told;
  gl_Position = u_view * vec4(a_point + a_across * (a_told.x * u_half), 1.0);
}`;

const RIBBON_FRAGMENT = `#version 300 es
precision highp float;
in vec3 v_told;
uniform vec3 u_ramp[5];
uniform vec3 u_edge;
uniform float u_now, u_past, u_future, u_broken;
out vec4 colour;
void main() {
  if (u_broken > 0.0 && fract(v_told.z * 2.0) > 0.6) discard;
  float along = clamp(v_told.y, 0.0, 1.0) * 4.0;
  int i = min(3, int(along));
  vec3 base = mix(u_ramp[i], u_ramp[i + 1], along - float(i));
  float edge = smoothstep(0.72, 0.9, abs(v_told.x));
  float strength = v_told.z <= u_now ? u_past : u_future;
  colour = vec4(mix(base, u_edge, 0.55 * edge), strength);
}`;

const GROUND_VERTEX = `#version 300 es
in vec3 a_point;
uniform mat4 u_view;
uniform vec3 u_middle;
uniform float u_reach;
out vec2 v_place;
void main() {
  v_place = u_middle.xy + a_point.xy * u_reach;
  gl_Position = u_view * vec4(v_place, 0.0, 1.0);
}`;

const GROUND_FRAGMENT = `#version 300 es
precision highp float;
in vec2 v_place;
uniform vec3 u_ground, u_line, u_sky, u_middle;
uniform float u_reach;
out vec4 colour;
float lines(float apart, float wide) {
  vec2 cell = v_place / apart;
  vec2 change = max(fwidth(cell), 1e-5);
  vec2 away = abs(fract(cell - 0.5) - 0.5) / change;
  // too fine to be told apart: let the lines go
  vec2 shown = smoothstep(0.5, 0.2, change);
  vec2 drawn = (1.0 - smoothstep(wide - 0.5, wide + 0.5, away)) * shown;
  return max(drawn.x, drawn.y);
}
void main() {
  float line = max(0.5 * lines(10.0, 0.6), lines(50.0, 1.0));
  vec3 base = mix(u_ground, u_line, line);
  float far = length(v_place - u_middle.xy) / u_reach;
  colour = vec4(mix(base, u_sky, smoothstep(0.35, 0.95, far)), 1.0);
}`;

class Painter {
  constructor(gl) {
    this.gl = gl;
    this.solid = this.program(SOLID_VERTEX, SOLID_FRAGMENT);
    this.ribbon = this.program(RIBBON_VERTEX, RIBBON_FRAGMENT);
    this.ground = this.program(GROUND_VERTEX, GROUND_FRAGMENT);
  }

  shader(kind, text) {
    const { gl } = this;
    const shader = gl.createShader(kind);
    gl.shaderSource(shader, text);
    gl.compileShader(shader);
    if (!gl.getShaderParameter(shader, gl.COMPILE_STATUS) && !gl.isContextLost()) {
      throw new Error(gl.getShaderInfoLog(shader));
    }
    return shader;
  }

  program(vertex, fragment) {
    const { gl } = this;
    const program = gl.createProgram();
    gl.attachShader(program, this.shader(gl.VERTEX_SHADER, vertex));
    gl.attachShader(program, this.shader(gl.FRAGMENT_SHADER, fragment));
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) {
      throw new Error(gl.getProgramInfoLog(program));
    }
    const places = {};
    const count = gl.getProgramParameter(program, gl.ACTIVE_UNIFORMS) || 0;
    for (let i = 0; i < count; i++) {
      const { name } = gl.getActiveUniform(program, i);
      places[name.replace("[0]", "")] = gl.getUniformLocation(program, name);
    }
    return { program, places };
  }

  // Points with their columns (name, width) and, if there are any, triangles as numbers.
  shape(program, columns, values, triangles = null) {
    const { gl } = this;
    const array = gl.createVertexArray();
    gl.bindVertexArray(array);
    const buffers = [gl.createBuffer()];
    gl.bindBuffer(gl.ARRAY_BUFFER, buffers[0]);
    gl.bufferData(gl.ARRAY_BUFFER, values, gl.STATIC_DRAW);
    const width = columns.reduce((sum, column) => sum + column[1], 0);
    let from = 0;
    for (const [name, wide] of columns) {
      const place = gl.getAttribLocation(program.program, name);
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, wide, gl.FLOAT, false, 4 * width, 4 * from);
      from += wide;
    }
    if (triangles) {
      buffers.push(gl.createBuffer());
      gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, buffers[1]);
      gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, triangles, gl.STATIC_DRAW);
    }
    gl.bindVertexArray(null);
    return { array, buffers, count: triangles ? triangles.length : values.length / width };
  }

  drop(shape) {
    this.gl.deleteVertexArray(shape.array);
    shape.buffers.forEach((buffer) => this.gl.deleteBuffer(buffer));
  }

  use(program, values) {
    const { gl } = this;
    gl.useProgram(program.program);
    for (const [name, value] of Object.entries(values)) {
      const place = program.places[name];
      if (place === undefined) continue;
      if (typeof value === "number") gl.uniform1f(place, value);
      else if (value.length === 16) gl.uniformMatrix4fv(place, false, value);
      else if (value.length === 4) gl.uniform4fv(place, value);
      else if (value.length === 2) gl.uniform2fv(place, value);
      else gl.uniform3fv(place, value);
    }
  }

  draw(shape, how = this.gl.TRIANGLES) {
    const { gl } = this;
    gl.bindVertexArray(shape.array);
    if (shape.buffers.length > 1) gl.drawElements(how, shape.count, gl.UNSIGNED_SHORT, 0);
    else gl.drawArrays(how, 0, shape.count);
  }
}
