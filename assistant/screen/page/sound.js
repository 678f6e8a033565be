// Answers aloud and the bell of the timers. Browsers let a page sound only after a tap.
let context = null;
let playing = null;
export let rings = 0;

export function wake() {
  context ??= new AudioContext();
  if (context.state === "suspended") context.resume();
  return context;
}

export const armed = () => context?.state === "running";

export function ring() {
  rings += 1;
  document.documentElement.dataset.rings = String(rings);
  navigator.vibrate?.([300, 150, 300]);
  if (context?.state !== "running") return;
  for (const [when, pitch] of [[0, 880], [0.25, 660], [0.5, 880], [0.75, 660]]) {
    const tone = new OscillatorNode(context, { frequency: pitch });
    const loud = new GainNode(context, { gain: 0 });
    const begin = context.currentTime + when;
    loud.gain.setTargetAtTime(0.3, begin, 0.01);
    loud.gain.setTargetAtTime(0, begin + 0.16, 0.03);
    tone.connect(loud).connect(context.destination);
    tone.start(begin);
    tone.stop(begin + 0.4);
  }
}

export function hush() {
  playing?.stop();
  playing = null;
}

// Plays an answer; sounding(on) tells the machine, so that no microphone hears it as words.
export async function play(name, sounding) {
  if (!name || context?.state !== "running") return;
  const reply = await fetch(`/speech/${name}.wav`);
  if (!reply.ok) return;
  const buffer = await context.decodeAudioData(await reply.arrayBuffer());
  hush();
  const source = new AudioBufferSourceNode(context, { buffer });
  source.connect(context.destination);
  source.addEventListener("ended", () => {
    if (playing === source) playing = null;
    if (!playing) sounding(false);
  });
  playing = source;
  sounding(true);
  source.start();
}
