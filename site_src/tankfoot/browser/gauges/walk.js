/** One tank of the walk on the screen: two fields, what they say at once, and one button that leads on. */

import { local } from "../../quantities/locale.js";
import { offered } from "../../quantities/text.js";
import { words } from "../../wording/words.js";
import { flipSign } from "../parts/fields.js";
import { element } from "../parts/figures.js";
import { dangerIn, typedIn } from "../parts/gauge.js";
import { reasonsOf } from "../parts/held.js";
import { orShowTrouble } from "../parts/trouble.js";
import { inTurn } from "../storage/record.js";
import { settings } from "../storage/settings.js";
import { answerTo, readText } from "./answer.js";
import { keepReading, TYPED } from "./reading.js";

const JUST_NOW = 700; // ms: a tap so soon after the screen has changed was meant for what stood there before

/**
 * @param {HTMLElement} view
 * @param {{kept: (tank: any, reading: any) => void, goOn: () => void, goBack: () => void,
 *   showList: () => void}} then
 */
export function openWalk(view, then) {
  const part = (name) => view.querySelector(`[data-${name}]`);
  const inputs = Object.fromEntries(Object.keys(TYPED).map((name) => [name, part(`typed=${name}`)]));
  const go = part("go");
  let now = null; // {tank, reading, isLast, saved: by field, the text that is kept}
  let changed = -Infinity; // when the screen changed last, ms

  for (const [name, input] of Object.entries(inputs)) {
    const [unit] = offered(TYPED[name].kind, settings().system);
    part(`unit-of=${name}`).textContent = unit;
    input.addEventListener("input", showButton);
    input.addEventListener("change", () => keep());
    input.addEventListener("keydown", (event) => { if (event.key === "Enter") goFrom(event, name); });
    part(`flip=${name}`).addEventListener("click", () => { flipSign({ entry: input }); input.focus(); showButton(); });
  }
  go.addEventListener("click", async () => {
    if (performance.now() - changed < JUST_NOW) return;
    if (isTyped()) await keep();
    else then.goOn();
  });
  for (const [name, leave] of [["back-one", then.goBack], ["overview", then.showList]]) {
    part(name).addEventListener("click", async () => { if (await keep()) leave(); });
  }
  document.addEventListener("visibilitychange", () => { if (document.hidden && now) keep(); });

  function isTyped() {
    return Object.entries(inputs).some(([name, { value }]) => ![now.saved[name], ""].includes(value.trim()));
  }

  function showButton() {
    const says = isTyped() ? "save" : now.isLast ? "end" : now.reading ? "next" : "skip";
    go.textContent = go.getAttribute(`data-says-${says}`);
    go.toggleAttribute("data-quiet", says === "skip");
  }

  /** Enter in the gauge leads to the temperature, else to the button, at once: a quick hand types on. A danger holds it. */
  async function goFrom(event, name) {
    event.preventDefault();
    const text = local(inputs[name].value.trim());
    const isRead = text === "" || typedIn(text, TYPED[name].kind) !== null;
    const danger = name === "temperature" || !text ? null : dangerIn(text, now.tank.body.rated_pressure);
    if (isRead && !danger) (name === "pressure" ? inputs.temperature : go).focus({ preventScroll: true });
    if (danger) inputs[name].blur(); // or a quick hand types the temperature behind the pressure
    if (await keep() && danger) part(`${danger}-stop`).focus();
  }

  /** Keeps what was typed since, before it is shown. @returns {Promise<boolean>} false where it could not be kept */
  function keep() {
    const at = now; // another tank may be on the screen once it is this one's turn
    const typed = Object.entries(inputs).map(([name, { value }]) => [name, local(value.trim())]);
    return inTurn(async () => {
      const texts = Object.fromEntries(typed.filter(([name, text]) => ![at.saved[name], ""].includes(text)));
      if (!Object.keys(texts).length) return true;
      const kept = await orShowTrouble(keepReading(at.tank, at.reading, texts));
      if (kept === undefined) return false;
      part("problem").textContent = kept.wrong ? words(`gauges.not_${TYPED[kept.wrong].of_tank}`) : "";
      if (kept.wrong) return false;
      Object.assign(at, kept, { saved: { ...at.saved, ...texts } });
      then.kept(kept.tank, kept.reading);
      if (at === now) await answer();
      return true;
    });
  }

  async function answer() {
    const at = now;
    const found = at.reading ? await orShowTrouble(answerTo(at.tank, at.reading.body)) : undefined;
    if (at !== now) return;
    const { danger, says, isTopUp } = found ?? { danger: null, says: [], isTopUp: false };
    for (const stop of ["plate", "zero"]) part(`${stop}-stop`).hidden = danger !== stop;
    view.toggleAttribute("data-stopped", danger !== null);
    part("read").textContent = now.reading ? readText(now.reading.body) : "";
    part("says").replaceChildren(...says.map(({ about, text }) => {
      const line = element("li", { textContent: text });
      line.dataset.about = about;
      return line;
    }));
    part("topped-up").hidden = !isTopUp || danger !== null;
    changed = performance.now();
    showButton();
  }

  /** Shows a tank; nothing is waited for before its field has the focus, so that the keyboard stays. */
  return function show({ tank, reading, holds, place, count }) {
    now = { tank, reading, isLast: place === count, saved: {} };
    view.hidden = false;
    part("name").textContent = tank.body.name;
    part("overview").textContent = words("gauges.place", { place, count });
    part("held").hidden = holds.length === 0;
    part("held-why").textContent = reasonsOf(holds);
    part("problem").textContent = "";
    part("back-one").disabled = place === 1;
    for (const input of Object.values(inputs)) input.value = "";
    for (const name of ["plate-stop", "zero-stop", "topped-up"]) part(name).hidden = true;
    view.toggleAttribute("data-stopped", false);
    part("says").replaceChildren();
    part("read").textContent = "";
    changed = performance.now();
    showButton();
    inputs.pressure.focus({ preventScroll: true });
    return answer();
  };
}
