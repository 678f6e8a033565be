// The parts of the page's JavaScript that need no browser. `node --test tests/screen/*.mjs`
import assert from "node:assert/strict";
import { test } from "node:test";

import { ago, clock, now, setClock } from "../../assistant/screen/page/clock.js";
import { largest } from "../../assistant/screen/page/fit.js";
import { bound } from "../../assistant/screen/page/make.js";
import { pressed, words } from "../../assistant/screen/page/pad.js";
import { longerWords, stopWords } from "../../assistant/screen/page/timers.js";

test("a clock counts down to the second, and on when it is over", () => {
  assert.equal(clock(65_000), "1:05");
  assert.equal(clock(64_001), "1:05");
  assert.equal(clock(3_600_000), "1:00:00");
  assert.equal(clock(1), "0:01");
  assert.equal(clock(0), "+0:00");
  assert.equal(clock(-61_500), "+1:02");
});

test("what is fresh has no age, what is old tells it in the unit that fits", () => {
  assert.equal(ago(29_999), "");
  assert.equal(ago(44_000), "40 s ago");
  assert.equal(ago(125_000), "2 min ago");
  assert.equal(ago(7_200_000), "2 h ago");
});

test("the kitchen's clock counts, not the device's", () => {
  setClock(new Date(Date.now() + 3_600_000).toISOString());
  assert.ok(Math.abs(now() - Date.now() - 3_600_000) < 1_000);
  setClock(new Date().toISOString());
});

test("the number pad takes one point, and no more figures than it shows", () => {
  const typed = (keys) => [...keys].reduce((text, key) => pressed(text, key), "");
  assert.equal(typed("12.5"), "12.5");
  assert.equal(typed("1.2.3"), "1.23");
  assert.equal(typed(".5"), "0.5");
  assert.equal(typed("007"), "7");
  assert.equal(typed("12⌫3"), "13");
  assert.equal(typed("123456789"), "1234567");
  assert.equal(pressed("", "⌫"), "");
});

test("what the pad sends is a number in words that the desk knows, or nothing", () => {
  assert.equal(words("2.4", "{n} kg"), "2.4 kg");
  assert.equal(words("2.", "ph {n}"), "ph 2");
  assert.equal(words("", "{n} C"), "");
  assert.equal(words("0.0", "{n} C"), "");
});

test("the largest size that fits is found to half a pixel", () => {
  for (const bar of [10.2, 33.3, 99.9]) {
    const found = largest(4, 120, (size) => size <= bar);
    assert.ok(found <= bar && found > bar - 1, `${found} for ${bar}`);
  }
  assert.equal(largest(4, 120, () => false), 4);
});

test("a timer is stopped and lengthened by its name", () => {
  assert.equal(stopWords("jars"), "stop the jars timer");
  assert.equal(longerWords("jars", 20_500), "set a timer called jars for 81 seconds");
  assert.equal(longerWords("timer", -5_000), "set a timer called timer for 60 seconds");
});

test("a number and its unit stay on one line", () => {
  assert.equal(bound("add 20 g of it in 5 min"), "add 20\u00a0g of it in 5\u00a0min");
  assert.equal(bound("9 bottles"), "9 bottles");
});
