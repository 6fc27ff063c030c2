import { ceilingCurve, ceilingDriveGain } from './ceiling.ts'
import type { Context } from './tone-nodes.ts'
import { Gain, WaveShaper } from './tone-nodes.ts'

/** The last thing that any sound passes: nothing louder than −1 dBFS leaves it. */
export type CeilingNodes = { readonly input: Gain; dispose(): void }

/** Builds the ceiling in a context, connected to what the listener hears. */
export function createCeiling(context: Context): CeilingNodes {
  const drive = new Gain({ context, gain: ceilingDriveGain })
  const shaper = new WaveShaper({ context })
  // Set here and not in the constructor, which would leave the ceiling open until the context runs.
  shaper.curve = ceilingCurve()
  shaper.oversample = 'none'
  drive.connect(shaper)
  shaper.connect(context.rawContext.destination)
  return {
    input: drive,
    dispose() {
      drive.dispose()
      shaper.dispose()
    },
  }
}
