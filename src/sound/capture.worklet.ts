// Runs beside the sound: gathers what the input brings into pieces and hands them to the page. It plays nothing.

// What the sound's own thread has, and lib.dom does not name.
declare class AudioWorkletProcessor {
  readonly port: MessagePort
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void

/** Samples of a piece, about a tenth of a second: few messages, and no wait that is seen. */
const pieceFrames = 4096

class CaptureProcessor extends AudioWorkletProcessor {
  #piece: Float32Array<ArrayBuffer>[] = []
  #filled = 0
  #ended = false

  constructor() {
    super()
    this.port.onmessage = () => {
      this.#ended = true
    }
  }

  process(inputs: Float32Array[][]): boolean {
    const input = inputs[0] ?? []
    const frames = input[0]?.length ?? 0
    if (frames > 0) {
      // An input may get or lose a channel on the way.
      if (input.length !== this.#piece.length || this.#filled + frames > pieceFrames) this.#send(input.length)
      for (const [channel, samples] of input.entries()) this.#piece[channel]?.set(samples, this.#filled)
      this.#filled += frames
    }
    return !this.#ended
  }

  #send(nextChannels: number): void {
    if (this.#filled > 0) {
      const channels = this.#piece.map((samples) => samples.slice(0, this.#filled))
      this.port.postMessage(
        { channels, timeMs: Date.now() },
        channels.map(({ buffer }) => buffer),
      )
    }
    this.#filled = 0
    if (this.#piece.length !== nextChannels) {
      this.#piece = Array.from({ length: nextChannels }, () => new Float32Array(pieceFrames))
    }
  }
}

registerProcessor('capture', CaptureProcessor)
