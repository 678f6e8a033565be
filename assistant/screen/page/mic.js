// The browser's microphone, and why there is none.
import { wake } from "./sound.js";

const REASONS = {
  NotAllowedError: "The browser was told not to give the microphone. Allow it for this page in the browser’s settings, then tap Talk again.",
  NotFoundError: "No microphone was found on this device. Plug one in, or type.",
  NotReadableError: "Another program is holding the microphone. Close it and tap Talk again.",
};
export const INSECURE =
  "Browsers give the microphone only to an encrypted page or on the kitchen’s own machine. Start there: panside screen --lan --tls, open the https address it shows, and trust its certificate. Until then, type.";

export class Mic {
  constructor(onSound) {
    this.onSound = onSound;
    this.stream = null;
  }

  get on() {
    return this.stream !== null;
  }

  async start() {
    if (!isSecureContext || !navigator.mediaDevices?.getUserMedia) throw new Error(INSECURE);
    // The ears were measured on sound as it is; only our own answers are taken out.
    const audio = { echoCancellation: true, noiseSuppression: false, autoGainControl: false, channelCount: 1 };
    try {
      this.stream = await navigator.mediaDevices.getUserMedia({ audio });
    } catch (error) {
      throw new Error(REASONS[error.name] ?? `The microphone can’t be used (${error.name}).`);
    }
    const context = wake();
    await context.audioWorklet.addModule("/page/tap.js");
    this.source = context.createMediaStreamSource(this.stream);
    this.tap = new AudioWorkletNode(context, "panside-tap", { numberOfOutputs: 0 });
    this.tap.port.onmessage = ({ data }) => this.onSound(data.pcm, data.level);
    this.source.connect(this.tap);
  }

  stop() {
    this.source?.disconnect();
    if (this.tap) this.tap.port.onmessage = null;
    this.stream?.getTracks().forEach((track) => track.stop());
    this.stream = null;
  }
}
