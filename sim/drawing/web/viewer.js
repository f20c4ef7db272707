// A diver to turn: reads what the page holds as JSON, draws it with three.js, moves it with the slider.
// Body axes as everywhere: x to the head, y to the left, z to the back; the world's z is up. Nothing is worked out
// here: positions, attitudes, gas and moments are those of the engine.
// @ts-check

import * as THREE from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

/** @param {string} text @param {any} Kind */
function unpacked(text, Kind) {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  return new Kind(bytes.buffer);
}

const LAYOUTS = 8; // of suits that are kept
const KEPT = 240; // meshes that are kept for when they come again
const NEAR = 20; // pixels from a grip within which it is taken hold of
const FINGER = 32; // the same for a finger, which hides what is under it
const LONGEST = 0.32; // m, the arrow of what turns the diver hardest
const VIEWS = { side: [0, -1, 0.12], front: [1, 0, 0.05], above: [0, -0.001, 1], corner: [0.75, -1, 0.45] };

/**
 * Shows a diver in an element. Returns handles for the page that holds it; ``put`` shows another in its place.
 * What the diver's data name as ``handles`` is shown as grips, and can be dragged while the diver is held flat.
 * @param {HTMLElement} place @param {any} first
 * @param {{ dragged: (handle: any, value: number, done: boolean) => void, over: (handle: any) => void } | null} [ears]
 */
export function show(place, first, ears = null) {
  const renderer = new THREE.WebGLRenderer({ antialias: true, alpha: true, preserveDrawingBuffer: true });
  renderer.setPixelRatio(Math.min(window.devicePixelRatio, 2));
  place.appendChild(renderer.domElement);
  const canvas = renderer.domElement;
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");

  const scene = new THREE.Scene();
  scene.add(new THREE.HemisphereLight(0xf4fbff, 0x8fa3ad, 2.2));
  const sun = new THREE.DirectionalLight(0xffffff, 1.7);
  sun.position.set(0.6, -1.2, 2.5);
  scene.add(sun);
  const camera = new THREE.PerspectiveCamera(28, 1, 0.05, 60);
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.minDistance = 0.6;
  controls.maxDistance = 14;

  const diver = new THREE.Group(); // turns about the point that the diver turns about
  const body = new THREE.Group();
  const ghost = new THREE.Group(); // another diver, pale, held flat, its hips where this one's are
  diver.add(body);
  scene.add(diver, ghost);

  let told = first;
  let held = new THREE.Vector3();
  /** @type {Map<string, any>} */
  const kept = new Map(); // meshes by digest, for those that come again
  /** @type {Map<string, any>} */
  const layouts = new Map(); // how the suit's gas follows its patches, by digest
  /** @type {Record<string, any[]>} */
  let layers = {};
  /** @type {Record<string, boolean>} */
  const shown = { items: false };
  /** @type {any} */
  let gas;
  /** @type {any} */
  let wing;
  /** @type {any} */
  let motion;
  /** @type {any} */
  let plane;
  /** @type {any} */
  let weight;
  /** @type {any} */
  let buoyancy;
  const put = (/** @type {string} */ layer, /** @type {any} */ thing) => (layers[layer] ??= []).push(thing);
  const turn = new THREE.Quaternion();
  const flat = new THREE.Quaternion();
  const heldFlat = () => diver.quaternion.angleTo(flat) < 1e-3;
  const next = new THREE.Quaternion();

  /** Everything of a diver in place of what was there. @param {any} now */
  function load(now) {
    told = now;
    held = new THREE.Vector3(...told.held);
    body.position.copy(held).negate();
    for (const old of [plane, weight, buoyancy, ...(layers.items ?? []), ...(layers.handles ?? [])]) if (old) disposed(old);
    layers = {};
    body.clear();
    grips = (ears && told.handles) || [];
    for (const handle of grips) {
      const one = grip(handle);
      body.add(one);
      put("handles", one);
    }
    const meshes = told.surfaces.map((/** @type {any} */ s) => {
      const mesh = (s.digest && kept.get(s.digest)) || surface(s, told.grain);
      if (s.digest) {
        kept.delete(s.digest); // so that what came last is last
        kept.set(s.digest, mesh);
      }
      body.add(mesh);
      put(s.group, mesh);
      return mesh;
    });
    for (const [digest, mesh] of kept) {
      if (kept.size <= KEPT) break;
      kept.delete(digest);
      mesh.geometry.dispose();
      mesh.material.dispose();
    }
    plane = level(told.reach);
    if (told.suit?.digest) {
      if (!told.suit.skin) Object.assign(told.suit, layouts.get(told.suit.digest));
      const { skin, normals, near, share } = told.suit;
      layouts.delete(told.suit.digest);
      layouts.set(told.suit.digest, { skin, normals, near, share });
      if (layouts.size > LAYOUTS) layouts.delete([...layouts.keys()][0]);
    }
    gas = told.suit ? suitGas(told.suit, meshes[told.suit.surface], told.grain) : null;
    wing = told.wing ? wingGas(told.wing, meshes[told.wing.surface]) : null;
    weight = arrow(told.colours.weight, 0.016, told.colours.buoyancy); // seen before light and dark
    buoyancy = arrow(told.colours.buoyancy, 0.016, told.colours.weight);
    scene.add(plane, weight, buoyancy);
    put("forces", weight);
    put("forces", buoyancy);
    const hardest = Math.max(...told.items.map((/** @type {any} */ i) => Math.abs(i.moment)), 1e-6);
    for (const item of told.items) {
      const one = arrow(item.moment > 0 ? told.colours.up : told.colours.down, 0.012);
      const long = Math.max((LONGEST * Math.abs(item.moment)) / hardest, 0.02);
      // a thing ahead of the point that the diver turns about pushes up where it turns them head-up
      const push = new THREE.Vector3(0, 0, item.moment * (item.at[0] - told.held[0]) > 0 ? 1 : -1);
      one.userData = { start: new THREE.Vector3(...item.at), push, long };
      scene.add(one);
      put("items", one);
    }
    motion = told.motion && moved(told.motion);
    for (const name of Object.keys(layers)) for (const one of layers[name]) one.visible = shown[name] ?? true;
  }

  /** A pale copy of who is shown now, to hold others against; none takes it away. @param {boolean} on */
  function pin(on) {
    ghost.clear();
    if (on) {
      const pale = new THREE.MeshBasicMaterial({ color: 0x5c6f7d, transparent: true, opacity: 0.16, depthWrite: false });
      for (const mesh of /** @type {any[]} */ (body.children)) {
        if (!mesh.isMesh || mesh.material.transparent) continue;
        ghost.add(new THREE.Mesh(mesh.geometry, pale));
      }
      ghost.position.copy(body.position);
    }
    draw();
  }

  /** Attitude, gas and forces at a time [s]; says what they are. @param {number} seconds */
  function at(seconds) {
    if (!motion) return { pitch: 0, moment: 0 };
    const { low, share } = between(motion.time, seconds);
    turn.fromArray(motion.turn, 4 * low).slerp(next.fromArray(motion.turn, 4 * (low + 1)), share);
    diver.quaternion.copy(turn);
    for (const one of layers.handles ?? []) one.visible = heldFlat() && (shown.handles ?? true);
    if (gas && motion.suit) gas(mixed(motion.suit, low, share, told.suit.patches));
    if (wing && motion.wing) wing(mixed(motion.wing, low, share, told.wing.cells));
    for (const [one, path, way] of /** @type {[any, any, number][]} */ ([
      [weight, motion.cm, -1],
      [buoyancy, motion.cb, 1],
    ])) {
      const start = new THREE.Vector3(...mixed(path, low, share, 3)).sub(held).applyQuaternion(turn);
      one.point(start, new THREE.Vector3(0, 0, way), 0.42);
    }
    for (const one of layers.items ?? []) {
      const start = one.userData.start.clone().sub(held).applyQuaternion(turn);
      one.point(start, one.userData.push, one.userData.long);
    }
    draw();
    return { pitch: mixed(motion.pitch, low, share, 1)[0], moment: mixed(motion.moment, low, share, 1)[0] };
  }

  /** @param {keyof typeof VIEWS} name */
  function view(name) {
    const way = new THREE.Vector3(...VIEWS[name]).normalize();
    const fov = (camera.fov * Math.PI) / 360;
    const across = told.reach / Math.min(1, camera.aspect * 0.8);
    camera.position.copy(way.multiplyScalar((0.85 * across) / Math.tan(fov)));
    controls.target.set(0, 0, 0);
    controls.update();
    draw();
  }

  function draw() {
    renderer.render(scene, camera);
  }

  function fit() {
    const { clientWidth, clientHeight } = place;
    renderer.setSize(clientWidth, clientHeight, true);
    camera.aspect = clientWidth / Math.max(clientHeight, 1);
    camera.updateProjectionMatrix();
    draw();
  }

  canvas.addEventListener("keydown", (event) => {
    const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    const zoom = { "+": 0.9, "-": 1.1 }[event.key];
    if (!step && !zoom) return;
    const from = new THREE.Spherical().setFromVector3(
      new THREE.Vector3(camera.position.x, camera.position.z, -camera.position.y),
    );
    from.theta += 0.12 * (step?.[0] ?? 0);
    from.phi = Math.min(Math.max(from.phi + 0.12 * (step?.[1] ?? 0), 0.02), Math.PI - 0.02);
    from.radius *= zoom ?? 1;
    const to = new THREE.Vector3().setFromSpherical(from);
    camera.position.set(to.x, -to.z, to.y);
    controls.update();
    draw();
    event.preventDefault();
  });
  /** @type {any[]} */
  let grips = [];
  /** @type {any} */
  let drag = null;

  /** The grip near a pointer, if any. @param {PointerEvent} event */
  function near(event) {
    if (!grips.length || shown.handles === false || !heldFlat()) return null;
    const box = canvas.getBoundingClientRect();
    let best = null;
    let least = (event.pointerType === "touch" ? FINGER : NEAR) ** 2;
    for (const handle of grips) {
      const at = new THREE.Vector3(...handle.at).sub(held).project(camera);
      const x = ((at.x + 1) / 2) * box.width - (event.clientX - box.left);
      const y = ((1 - at.y) / 2) * box.height - (event.clientY - box.top);
      if (at.z < 1 && x * x + y * y < least) [best, least] = [handle, x * x + y * y];
    }
    return best;
  }

  /** The value of a handle where the pointer is; null where that cannot be said. @param {any} handle @param {PointerEvent} event */
  function under(handle, event) {
    const box = canvas.getBoundingClientRect();
    const spot = new THREE.Vector2(((event.clientX - box.left) / box.width) * 2 - 1, 1 - ((event.clientY - box.top) / box.height) * 2);
    const ray = new THREE.Raycaster();
    ray.setFromCamera(spot, camera);
    const { origin, direction } = ray.ray;
    if (handle.way === "turn") {
      const about = new THREE.Vector3(...handle.pivot).sub(held);
      if (Math.abs(direction.y) < 0.15) return null; // along the plane in which the limb turns
      const far = (about.y - origin.y) / direction.y;
      const hit = origin.clone().addScaledVector(direction, far).sub(about);
      return (Math.atan2(hit.z, hit.x) * 180) / Math.PI;
    }
    const start = new THREE.Vector3(...handle.at).sub(held); // nearest point of the line along x to the ray
    const across = direction.x;
    const sine = 1 - across * across;
    if (sine < 0.02) return null;
    const to = origin.clone().sub(start);
    return (to.x - across * to.dot(direction)) / sine;
  }

  function dragTo(/** @type {PointerEvent} */ event) {
    const there = under(drag.handle, event);
    if (there === null) return;
    let by = there - drag.start;
    if (drag.handle.way === "turn") by = ((by + 540) % 360) - 180;
    const { now, each, low, high, step } = drag.handle;
    const value = Math.min(Math.max(Math.round((now + each * by) / step) * step, low), high);
    if (value === drag.value) return;
    drag.value = value;
    ears?.dragged(drag.handle, value, false);
  }

  if (ears) {
    canvas.addEventListener("pointerdown", (event) => {
      const handle = event.isPrimary && event.button === 0 ? near(event) : null;
      const start = handle && under(handle, event);
      if (start === null) return;
      drag = { handle, start, value: handle.now, finger: event.pointerId };
      controls.enabled = false;
      canvas.setPointerCapture(event.pointerId);
    }, { capture: true });
    canvas.addEventListener("pointermove", (event) => {
      if (drag) return event.pointerId === drag.finger ? dragTo(event) : undefined;
      const handle = event.buttons ? null : near(event);
      canvas.style.cursor = handle ? "grab" : "";
      ears.over(handle);
    });
    const end = (/** @type {PointerEvent} */ event) => {
      if (event.pointerId !== drag?.finger) return;
      const { handle, value } = drag;
      drag = null;
      controls.enabled = true;
      ears.dragged(handle, value, true);
    };
    canvas.addEventListener("pointerup", end);
    canvas.addEventListener("pointercancel", end);
    canvas.addEventListener("pointerleave", () => drag || ears.over(null));
  }
  load(first);
  controls.addEventListener("change", draw);
  new ResizeObserver(fit).observe(place);
  fit();
  view("side");
  return {
    at,
    view,
    pin,
    canvas,
    put: (/** @type {any} */ now) => {
      load(now);
      draw();
    },
    has: () => [...kept.keys(), ...layouts.keys()],
    grips: () => grips.map((handle) => handle.name),
    spots: () => {
      const box = canvas.getBoundingClientRect();
      return grips.map((handle) => {
        const at = new THREE.Vector3(...handle.at).sub(held).project(camera);
        return { key: handle.key, x: box.left + ((at.x + 1) / 2) * box.width, y: box.top + ((1 - at.y) / 2) * box.height };
      });
    },
    duration: () => (motion ? motion.time[motion.time.length - 1] : 0),
    layers: () => Object.keys(layers),
    layer: (/** @type {string} */ name, /** @type {boolean} */ on) => {
      shown[name] = on;
      for (const one of layers[name] ?? []) one.visible = on;
      draw();
    },
  };
}

/** A ring to take hold of, as large on the screen from near and far. @param {any} handle */
function grip(handle) {
  const paper = document.createElement("canvas");
  paper.width = paper.height = 64;
  const pen = /** @type {any} */ (paper.getContext("2d"));
  for (const [wide, colour] of /** @type {[number, string][]} */ ([[16, "#10202c"], [8, "#ffd34d"]])) {
    pen.lineWidth = wide;
    pen.strokeStyle = colour;
    pen.beginPath();
    pen.arc(32, 32, 20, 0, 7);
    pen.stroke();
  }
  const one = new THREE.Sprite(
    new THREE.SpriteMaterial({ map: new THREE.CanvasTexture(paper), depthTest: false, sizeAttenuation: false }),
  );
  one.position.set(...(/** @type {[number, number, number]} */ (handle.at)));
  one.scale.setScalar(0.022);
  one.renderOrder = 9;
  return one;
}

/** Take a thing out and give back what the graphics hold for it. @param {any} thing */
function disposed(thing) {
  thing.removeFromParent();
  thing.traverse((/** @type {any} */ one) => {
    if (!one.isSprite) one.geometry?.dispose(); // all sprites share one
    one.material?.map?.dispose();
    one.material?.dispose();
  });
}

/** The frames of a motion as numbers. @param {any} packed */
function moved(packed) {
  /** @type {Record<string, any>} */
  const found = {};
  for (const [name, text] of Object.entries(packed)) found[name] = text && unpacked(text, Float32Array);
  return found;
}

/** Places that are kept as whole grains, in metres. @param {string} text @param {number} grain */
function places(text, grain) {
  return Float32Array.from(unpacked(text, Int16Array), (/** @type {number} */ x) => grain * x);
}

/** @param {any} s @param {number} grain */
function surface(s, grain) {
  const shape = new THREE.BufferGeometry();
  const corners = places(s.positions, grain);
  const colours = unpacked(s.colours, Uint8Array);
  const all = new Uint8Array((4 * corners.length) / 3);
  for (let i = 0; i < all.length; i++) all[i] = colours[i % colours.length];
  shape.setAttribute("position", new THREE.BufferAttribute(corners, 3));
  shape.setAttribute("color", new THREE.BufferAttribute(all, 4, true));
  shape.setIndex(new THREE.BufferAttribute(unpacked(s.faces, s.wide ? Uint32Array : Uint16Array), 1));
  shape.computeVertexNormals();
  const stuff = new THREE.MeshStandardMaterial({
    vertexColors: true,
    roughness: 0.85 - 0.5 * s.shine,
    metalness: s.metal,
    transparent: s.layer,
    depthWrite: !s.layer,
    side: s.layer ? THREE.FrontSide : THREE.DoubleSide,
  });
  const mesh = new THREE.Mesh(shape, stuff);
  mesh.name = s.name;
  mesh.renderOrder = s.layer ? 2 : 1;
  return mesh;
}

/** The layer of gas in a suit: the skin pushed out by the thickness that the nearest patches have. */
function suitGas(/** @type {any} */ told, /** @type {any} */ mesh, /** @type {number} */ grain) {
  const skin = places(told.skin, grain);
  const normals = unpacked(told.normals, Int8Array);
  const near = unpacked(told.near, Uint16Array);
  const share = unpacked(told.share, Uint8Array);
  const count = skin.length / 3;
  const each = near.length / count;
  const positions = mesh.geometry.attributes.position;
  const colours = mesh.geometry.attributes.color;
  return (/** @type {number[]} */ thickness) => {
    for (let v = 0; v < count; v++) {
      let thick = 0;
      for (let k = 0; k < each; k++) thick += share[v * each + k] * thickness[near[v * each + k]];
      for (let a = 0; a < 3; a++) positions.array[3 * v + a] = skin[3 * v + a] + told.enlarged * thick * normals[3 * v + a];
      const full = told.deepest > 0 ? Math.min(thick / 255 / told.deepest, 1) : 0;
      for (let a = 0; a < 3; a++) colours.array[4 * v + a] = told.thin[a] + full * (told.thick[a] - told.thin[a]);
      colours.array[4 * v + 3] = 255 * (0.1 + 0.72 * full);
    }
    positions.needsUpdate = colours.needsUpdate = true;
  };
}

/** The wing's bag coloured by the gas in the nearest cells. */
function wingGas(/** @type {any} */ told, /** @type {any} */ mesh) {
  const near = unpacked(told.near, Uint16Array);
  const share = unpacked(told.share, Uint8Array);
  const colours = mesh.geometry.attributes.color;
  const each = near.length / colours.count;
  return (/** @type {number[]} */ volume) => {
    const most = Math.max(...volume, 1e-9);
    for (let v = 0; v < colours.count; v++) {
      let here = 0;
      for (let k = 0; k < each; k++) here += share[v * each + k] * volume[near[v * each + k]];
      const full = (0.9 * here) / 255 / most;
      for (let a = 0; a < 3; a++) colours.array[4 * v + a] = told.cloth[a] + full * (told.thick[a] - told.cloth[a]);
    }
    colours.needsUpdate = true;
  };
}

/** Of the colour, with a rim of another where one is given. @param {string} colour @param {number} [thin] @param {string} [edge] */
function arrow(colour, thin = 0.016, edge = "") {
  const both = /** @type {any} */ (new THREE.Group());
  /** @type {{ shaft: any, head: any, rim: number }[]} */
  const layers = [];
  for (const [shade, rim, order] of /** @type {[string, number, number][]} */ (
    edge ? [[edge, 0.28 * thin, 4], [colour, 0, 5]] : [[colour, 0, 5]]
  )) {
    const stuff = new THREE.MeshBasicMaterial({ color: shade, depthTest: false, transparent: true, opacity: 0.92 });
    const shaft = new THREE.Mesh(new THREE.CylinderGeometry(thin * 0.5 + rim, thin * 0.5 + rim, 1, 12), stuff);
    const head = new THREE.Mesh(new THREE.ConeGeometry(thin * 1.7 + 2 * rim, thin * 4.2 + 4 * rim, 20), stuff);
    shaft.renderOrder = head.renderOrder = order;
    both.add(shaft, head);
    layers.push({ shaft, head, rim });
  }
  const y = new THREE.Vector3(0, 1, 0);
  both.point = (/** @type {any} */ start, /** @type {any} */ way, /** @type {number} */ long) => {
    const neck = Math.max(long - thin * 4.2, 0.001);
    for (const { shaft, head, rim } of layers) {
      shaft.scale.set(1, neck + rim, 1);
      shaft.position.set(0, (neck - rim) / 2, 0);
      head.position.set(0, neck + thin * 2.1 + 0.8 * rim, 0);
    }
    both.position.copy(start);
    both.quaternion.setFromUnitVectors(y, way);
  };
  return both;
}

/** A level plane in metres, faint, so that tilt can be seen. @param {number} reach */
function level(reach) {
  const size = 2 * Math.ceil(reach + 0.5);
  const grid = new THREE.GridHelper(size, 2 * size, 0x5d8194, 0x8fb3c4);
  grid.rotation.x = Math.PI / 2;
  const stuff = /** @type {any} */ (grid.material);
  stuff.transparent = true;
  stuff.opacity = 0.35;
  return grid;
}

/** @param {Float32Array} time @param {number} seconds */
function between(time, seconds) {
  let low = 0;
  let high = time.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (time[middle] <= seconds) low = middle;
    else high = middle;
  }
  const span = time[low + 1] - time[low];
  return { low, share: span > 0 ? Math.min(Math.max((seconds - time[low]) / span, 0), 1) : 0 };
}

/** @param {Float32Array} rows @param {number} low @param {number} share @param {number} each */
function mixed(rows, low, share, each) {
  const found = new Array(each);
  for (let k = 0; k < each; k++) {
    const a = rows[low * each + k];
    found[k] = a + share * (rows[(low + 1) * each + k] - a);
  }
  return found;
}
