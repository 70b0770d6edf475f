// Runs beside the page: 16-bit blocks of a twentieth of a second, out of whatever the browser hands over.
const BLOCK = 800;

class Recorder extends AudioWorkletProcessor {
  constructor() {
    super();
    this.block = new Int16Array(BLOCK);
    this.filled = 0;
  }

  process(inputs) {
    const samples = inputs[0][0];
    if (!samples) return true;
    for (const sample of samples) {
      this.block[this.filled++] = Math.max(-32768, Math.min(32767, Math.round(sample * 32768)));
      if (this.filled === BLOCK) {
        this.port.postMessage(this.block, [this.block.buffer]);
        this.block = new Int16Array(BLOCK);
        this.filled = 0;
      }
    }
    return true;
  }
}

registerProcessor("recorder", Recorder);
