import { ceilingCurve, ceilingDriveGain } from './ceiling.ts'
import type { Context } from './tone-nodes.ts'
import { Gain, WaveShaper } from './tone-nodes.ts'

/** The last thing that any sound passes: nothing louder than −1 dBFS leaves it. */
export type CeilingNodes = {
  readonly input: Gain
  /** Highest sample that has left it in the last 2048, re digital full scale. The first call begins to listen. */
  peak(): number
  dispose(): void
}

/** Builds the ceiling in a context, connected to what the listener hears. */
export function createCeiling(context: Context): CeilingNodes {
  const drive = new Gain({ context, gain: ceilingDriveGain })
  const shaper = new WaveShaper({ context })
  // Set here and not in the constructor, which would leave the ceiling open until the context runs.
  shaper.curve = ceilingCurve()
  shaper.oversample = 'none'
  drive.connect(shaper)
  shaper.connect(context.rawContext.destination)
  let ear: { analyser: AnalyserNode; samples: Float32Array<ArrayBuffer> } | undefined
  return {
    input: drive,
    peak() {
      if (!ear) {
        const analyser = context.createAnalyser()
        analyser.fftSize = 2048
        shaper.connect(analyser)
        ear = { analyser, samples: new Float32Array(analyser.fftSize) }
      }
      ear.analyser.getFloatTimeDomainData(ear.samples)
      return ear.samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0)
    },
    dispose() {
      drive.dispose()
      shaper.dispose()
    },
  }
}
