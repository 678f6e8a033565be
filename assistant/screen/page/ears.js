// The Talk button: whether it listens, thinks or speaks, in words as wide as the screen.
import { at, show, tell } from "./make.js";
import { Mic } from "./mic.js";
import { hush } from "./sound.js";

const STAYS = 6_000; // a remark on the button [ms]

export class Ears {
  constructor(told) {
    this.told = told; // told.send(record), told.sound(pcm), told.began()
    this.mic = new Mic((pcm, level) => this.#sound(pcm, level));
    this.timer = 0;
    at("mic").addEventListener("click", () => this.#tapped());
    this.#show("Talk", false);
  }

  // The line is there again: the machine is told anew that this microphone is open.
  back() {
    if (this.mic.on) this.told.send({ kind: "mic", on: true });
  }

  state(got) {
    if (!got.on) {
      this.mic.stop();
      this.partial(got.why);
    }
    this.#show(got.on && this.mic.on ? "Listening" : "Talk", got.on && this.mic.on);
  }

  partial(words) {
    tell("mic-heard", words);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => tell("mic-heard", ""), STAYS);
  }

  answered() {
    tell("mic-heard", "");
  }

  sounding(on) {
    document.body.toggleAttribute("data-speaking", on);
    if (on) this.#show("Speaking: tap to hush", this.mic.on);
    else this.#show(this.mic.on ? "Listening" : "Talk", this.mic.on);
  }

  async #tapped() {
    if (document.body.hasAttribute("data-speaking")) {
      hush();
      return this.sounding(false);
    }
    if (this.mic.on) {
      this.mic.stop();
      this.told.send({ kind: "mic", on: false });
      return this.#show("Talk", false);
    }
    try {
      await this.mic.start();
    } catch (error) {
      return this.partial(error.message);
    }
    this.told.began();
    this.#show("Opening the ears …", true);
    this.told.send({ kind: "mic", on: true });
  }

  #sound(pcm, level) {
    this.told.sound(pcm);
    at("level").value = String(Math.min(1, level * 6));
  }

  #show(words, on) {
    tell("mic-word", words);
    at("mic").setAttribute("aria-pressed", String(on));
    show("level", on);
  }
}
