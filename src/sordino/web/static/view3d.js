// Shows a box as a model: <div class="view3d" data-glb="URL" data-name="the box"></div>, any number of them, whenever
// they come into the page. Nothing moves by itself: a picture is drawn when something has changed. All that a pointer
// can do buttons and keys can do too; an upright plane cuts the model open.
import {
  AmbientLight, Box3, Color, DirectionalLight, EdgesGeometry, GLTFLoader, LineBasicMaterial, LineSegments,
  OrbitControls, PerspectiveCamera, Plane, Scene, Vector3, WebGLRenderer,
} from "./three.min.js";

const TURN = Math.PI / 12, NEARER = 0.85, CREASE = 25, SHARPEST = 2;
const QUIET = 1000;  // ms until a changed box is shown: whoever types on does not wait for its drawing
const live = new Map();

function colour(name) {
  const probe = document.createElement("i");
  probe.style.forcedColorAdjust = "none";
  probe.style.color = `var(${name})`;
  document.body.append(probe);
  const found = getComputedStyle(probe).color;
  probe.remove();
  return new Color(found);
}

function say(place, words) {
  const line = document.createElement("p");
  line.setAttribute("role", "status");
  line.textContent = words;
  place.replaceChildren(line);
}

function button(words, deed) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", deed);
  return made;
}

function show(place) {
  let renderer;
  try {
    renderer = new WebGLRenderer({ antialias: true });
  } catch {
    say(place, "This browser shows no models. The section and the list of parts tell the same.");
    return () => {};
  }
  const name = place.dataset.name || "the box";
  const scene = new Scene(), camera = new PerspectiveCamera(36, 4 / 3, 0.01, 100);
  const sun = new DirectionalLight(0xffffff, 2.4), knife = new Plane(new Vector3(0, 0, -1), 1e3);
  const lines = new LineBasicMaterial();
  sun.position.set(2, 4, 3);
  camera.add(sun);
  scene.add(camera, new AmbientLight(0xffffff, 1.5));
  renderer.setPixelRatio(Math.min(window.devicePixelRatio, SHARPEST));
  renderer.clippingPlanes = [knife];
  const canvas = renderer.domElement;
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", `Model of ${name}. Arrow keys turn it, plus and minus bring it nearer or farther.`);
  const orbit = new OrbitControls(camera, canvas);
  orbit.enableZoom = false;

  let waiting = false, gone = false, middle = new Vector3(), reach = 1, depth = [0, 1];
  const draw = () => {
    if (waiting || gone) return;
    waiting = true;
    requestAnimationFrame(() => { waiting = false; if (!gone) renderer.render(scene, camera); });
  };
  const paint = () => { scene.background = colour("--sunk"); lines.color = colour("--model-line"); draw(); };
  const fit = () => {
    const { clientWidth: wide, clientHeight: high } = place;
    if (!wide || !high) return;
    renderer.setSize(wide, high, false);
    camera.aspect = wide / high;
    camera.updateProjectionMatrix();
    draw();
  };
  const home = () => {
    camera.position.copy(middle).add(new Vector3(0.9, 0.65, 1.25).normalize().multiplyScalar(reach * 1.7));
    orbit.target.copy(middle);
    orbit.update();
    draw();
  };
  const move = (change) => {
    const arm = camera.position.clone().sub(orbit.target);
    change(arm);
    camera.position.copy(orbit.target).add(arm);
    orbit.update();
    draw();
  };
  const turn = (angle) => move((arm) => arm.applyAxisAngle(new Vector3(0, 1, 0), angle));
  const tip = (angle) => move((arm) => {
    const side = new Vector3().crossVectors(arm, new Vector3(0, 1, 0)).normalize();
    const tilted = arm.clone().applyAxisAngle(side, -angle);
    if (Math.abs(tilted.y) < 0.98 * tilted.length()) arm.copy(tilted);
  });
  const near = (share) => move((arm) => arm.multiplyScalar(share));
  const keys = {
    ArrowLeft: () => turn(-TURN), ArrowRight: () => turn(TURN), ArrowUp: () => tip(TURN), ArrowDown: () => tip(-TURN),
    "+": () => near(NEARER), "=": () => near(NEARER), "-": () => near(1 / NEARER), Home: home,
  };
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
  });
  orbit.addEventListener("change", draw);

  const acts = document.createElement("div"), slide = document.createElement("input");
  const label = document.createElement("label");
  acts.className = "view3d-acts";
  slide.type = "range";
  slide.min = 0; slide.max = 100; slide.step = 1; slide.value = 100;
  label.append("Cut open", slide);
  slide.addEventListener("input", () => {
    knife.constant = depth[0] + (depth[1] - depth[0]) * (slide.value / 100) + 1e-4;
    draw();
  });
  acts.append(
    button("Turn left", keys.ArrowLeft), button("Turn right", keys.ArrowRight), button("Tip up", keys.ArrowUp),
    button("Tip down", keys.ArrowDown), button("Nearer", keys["+"]), button("Farther", keys["-"]),
    button("As at first", () => { slide.value = 100; slide.dispatchEvent(new Event("input")); home(); }), label,
  );

  const sized = new ResizeObserver(fit), themed = ["(prefers-color-scheme: dark)", "(forced-colors: active)"]
    .map(window.matchMedia.bind(window));
  const told = new MutationObserver(paint);
  for (const each of themed) each.addEventListener("change", paint);
  told.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });

  say(place, "The model is being fetched …");
  new GLTFLoader().load(place.dataset.glb, (model) => {
    if (gone) return;
    const solids = [];
    model.scene.traverse((each) => { if (each.isMesh) solids.push(each); });
    for (const each of solids) {
      for (const material of [each.material].flat()) material.side = 2;
      each.add(new LineSegments(new EdgesGeometry(each.geometry, CREASE), lines));
    }
    scene.add(model.scene);
    const whole = new Box3().setFromObject(model.scene);
    whole.getCenter(middle);
    reach = whole.getSize(new Vector3()).length();
    camera.near = reach / 200;
    camera.far = reach * 20;
    depth = [whole.min.z, whole.max.z];
    knife.constant = depth[1] + 1e-4;
    place.replaceChildren(canvas);
    place.after(acts);
    place.dataset.shown = String(solids.length);
    sized.observe(place);
    paint();
    fit();
    home();
  }, undefined, () => say(place, "The model could not be fetched. The section and the list of parts tell the same."));

  return () => {
    gone = true;
    sized.disconnect();
    told.disconnect();
    for (const each of themed) each.removeEventListener("change", paint);
    orbit.dispose();
    acts.remove();
    renderer.dispose();
    renderer.forceContextLoss();
  };
}

// while a box changes again and again its last model stays, until the changes pause
function settle(place) {
  place.next = place.dataset.glb;
  clearTimeout(place.pause);
  place.pause = setTimeout(() => { live.get(place)?.(); live.delete(place); look(); }, QUIET);
}

function look() {
  for (const [place, end] of live) {
    if (!place.isConnected) { end(); live.delete(place); }
    else if (place.dataset.glb !== place.next) settle(place);
  }
  for (const place of document.querySelectorAll(".view3d[data-glb]")) {
    if (live.has(place)) continue;
    place.next = place.dataset.glb;
    live.set(place, show(place));
  }
}

new MutationObserver(look).observe(document.documentElement, {
  childList: true, subtree: true, attributes: true, attributeFilter: ["data-glb"],
});
look();
