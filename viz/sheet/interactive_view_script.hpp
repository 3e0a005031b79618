// SPDX-License-Identifier: GPL-3.0-or-later
// What runs in the reader's browser.
#pragma once

namespace hangtrue::sheet
{

/// The element of the door in the page, hidden until the script has drawn.
inline constexpr const char* turning_frame = R"(<section id="turning" class="screen" hidden>
<h2>The door in space</h2>
<p class="fine">Drag to turn, wheel to come nearer, double click to start again.</p>
<canvas id="turning-canvas" style="width:100%;height:110mm;border:0.18mm solid #cccccc;touch-action:none"></canvas>
<p id="turning-states"></p>
<p><label>Movement <input id="turning-share" type="range" min="0" max="1" step="0.01" value="1"></label>
<span id="turning-words"></span></p>
</section>
)";

/// The script: positions and displacements from the data, a camera that orbits the door.
inline constexpr const char* turning_script = R"((function () {
  'use strict';
  var section = document.getElementById('turning');
  var canvas = document.getElementById('turning-canvas');
  var data = JSON.parse(document.getElementById('turning-data').textContent);
  var renderer;
  try {
    renderer = new THREE.WebGLRenderer({ canvas: canvas, antialias: true });
  } catch (none) {
    return;
  }
  section.hidden = false;
  renderer.setClearColor(0xffffff);
  renderer.setPixelRatio(window.devicePixelRatio || 1);

  function bytes(text) {
    var raw = atob(text), bytes = new Uint8Array(raw.length);
    for (var i = 0; i < raw.length; ++i) bytes[i] = raw.charCodeAt(i);
    return bytes.buffer;
  }
  var scene = new THREE.Scene();
  var low = [1e9, 1e9, 1e9], high = [-1e9, -1e9, -1e9];
  var parts = data.parts.map(function (part) {
    var drawn = new Int16Array(bytes(part.points));
    var place = new Float32Array(drawn.length);
    for (var i = 0; i < drawn.length; ++i) {
      place[i] = drawn[i] * data.unit;
      low[i % 3] = Math.min(low[i % 3], place[i]);
      high[i % 3] = Math.max(high[i % 3], place[i]);
    }
    var shape = new THREE.BufferGeometry();
    var attribute = new THREE.BufferAttribute(place, 3);
    if (shape.setAttribute) shape.setAttribute('position', attribute);
    else shape.addAttribute('position', attribute);
    shape.setIndex(new THREE.BufferAttribute(new Uint32Array(bytes(part.index)), 1));
    var thing = part.lines
      ? new THREE.LineSegments(shape, new THREE.LineBasicMaterial({ color: part.colour }))
      : new THREE.Mesh(shape, new THREE.MeshPhongMaterial({
          color: part.colour, flatShading: true, shininess: 0, side: THREE.DoubleSide,
          polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 }));
    thing.frustumCulled = false;
    scene.add(thing);
    return { drawn: drawn, place: place, attribute: attribute,
             moves: part.moves.map(function (m) { return new Int16Array(bytes(m)); }) };
  });
  scene.add(new THREE.AmbientLight(0xffffff, 0.6));
  var lamp = new THREE.DirectionalLight(0xffffff, 0.55);
  scene.add(lamp);

  var middle = new THREE.Vector3((low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2);
  var reach = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
  var camera = new THREE.OrthographicCamera(-1, 1, 1, -1, -10 * reach, 10 * reach);
  camera.up.set(0, 0, 1);
  var start = { round: 1.1, over: 0.35, near: 1 };
  var eye = Object.assign({}, start);
  var state = data.states.length ? 0 : -1;

  function draw() {
    var width = canvas.clientWidth, height = canvas.clientHeight;
    renderer.setSize(width, height, false);
    var half = 0.55 * reach / eye.near;
    camera.left = -half * width / height;
    camera.right = half * width / height;
    camera.top = half;
    camera.bottom = -half;
    camera.updateProjectionMatrix();
    camera.position.set(middle.x + reach * Math.cos(eye.over) * Math.cos(eye.round),
                        middle.y + reach * Math.cos(eye.over) * Math.sin(eye.round),
                        middle.z + reach * Math.sin(eye.over));
    camera.lookAt(middle);
    lamp.position.copy(camera.position).sub(middle);
    renderer.render(scene, camera);
  }
  function move() {
    var share = Number(document.getElementById('turning-share').value);
    var words = 'as drawn';
    var factor = 0, unit = 0;
    if (state >= 0) {
      unit = data.states[state].unit;
      factor = share * data.states[state].factor;
      words = 'drawn ' + factor.toFixed(0) + ' times larger';
    }
    parts.forEach(function (part) {
      var moves = state >= 0 ? part.moves[state] : null;
      for (var i = 0; i < part.place.length; ++i)
        part.place[i] = part.drawn[i] * data.unit + (moves ? factor * unit * moves[i] : 0);
      part.attribute.needsUpdate = true;
    });
    document.getElementById('turning-words').textContent = words;
    draw();
  }
  var box = document.getElementById('turning-states');
  [{ name: 'as drawn' }].concat(data.states).forEach(function (s, i) {
    var label = document.createElement('label'), choice = document.createElement('input');
    choice.type = 'radio';
    choice.name = 'turning-state';
    choice.checked = i - 1 === state;
    choice.addEventListener('change', function () { state = i - 1; move(); });
    label.style.marginRight = '5mm';
    label.appendChild(choice);
    label.appendChild(document.createTextNode(' ' + s.name));
    box.appendChild(label);
  });
  document.getElementById('turning-share').addEventListener('input', move);
  var held = null;
  canvas.addEventListener('pointerdown', function (e) {
    held = [e.clientX, e.clientY];
    canvas.setPointerCapture(e.pointerId);
  });
  canvas.addEventListener('pointermove', function (e) {
    if (!held) return;
    eye.round -= 0.008 * (e.clientX - held[0]);
    eye.over = Math.max(-1.5, Math.min(1.5, eye.over + 0.008 * (e.clientY - held[1])));
    held = [e.clientX, e.clientY];
    draw();
  });
  canvas.addEventListener('pointerup', function () { held = null; });
  canvas.addEventListener('wheel', function (e) {
    e.preventDefault();
    eye.near = Math.max(0.3, Math.min(20, eye.near * Math.exp(-0.001 * e.deltaY)));
    draw();
  }, { passive: false });
  canvas.addEventListener('dblclick', function () { eye = Object.assign({}, start); draw(); });
  window.addEventListener('resize', draw);
  move();
}());
)";

} // namespace hangtrue::sheet
