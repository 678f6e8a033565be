// The microphone's sound, whatever its rate, as 16 kHz blocks of 16 bits, on the audio thread.
const RATE = 16_000;
const BLOCK = 1024; // 64 ms
const LOBES = 12; // of the windowed sinc to each side: 60 dB is enough for speech

class Tap extends AudioWorkletProcessor {
  constructor() {
    super();
    this.step = sampleRate / RATE;
    this.cut = Math.min(1, 1 / this.step) * 0.92;
    this.reach = Math.ceil(LOBES / this.cut);
    this.kept = new Float32Array(2 * this.reach);
    this.place = this.reach;
    this.block = new Int16Array(BLOCK);
    this.filled = 0;
    this.power = 0;
  }

  process([input]) {
    const fresh = input[0];
    if (!fresh) return true;
    const sound = new Float32Array(this.kept.length + fresh.length);
    sound.set(this.kept);
    sound.set(fresh, this.kept.length);
    while (this.place + this.reach < sound.length) {
      this.put(this.between(sound, this.place));
      this.place += this.step;
    }
    const gone = Math.max(0, Math.floor(this.place) - this.reach);
    this.kept = sound.slice(gone);
    this.place -= gone;
    return true;
  }

  // The value between two samples, low-passed for the new rate.
  between(sound, place) {
    let sum = 0;
    const from = Math.max(0, Math.ceil(place - this.reach));
    const to = Math.min(sound.length - 1, Math.floor(place + this.reach));
    for (let n = from; n <= to; n++) {
      const off = n - place;
      const angle = Math.PI * off * this.cut;
      const sinc = angle === 0 ? 1 : Math.sin(angle) / angle;
      sum += sound[n] * sinc * (0.5 + 0.5 * Math.cos((Math.PI * off) / this.reach));
    }
    return sum * this.cut;
  }

  put(value) {
    this.block[this.filled++] = Math.round(Math.max(-1, Math.min(1, value)) * 32767);
    this.power += value * value;
    if (this.filled < BLOCK) return;
    const sent = this.block;
    this.port.postMessage({ pcm: sent.buffer, level: Math.sqrt(this.power / BLOCK) }, [sent.buffer]);
    this.block = new Int16Array(BLOCK);
    this.filled = 0;
    this.power = 0;
  }
}

registerProcessor("panside-tap", Tap);
