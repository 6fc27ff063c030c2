import type { AuditionPlace, PlaceResponses } from './audition-types.ts'
import { createCeiling } from './ceiling-nodes.ts'
import { createFader, type Fader } from './fader.ts'
import { createResponseLane } from './response-lane.ts'
import type { SoundClock } from './sound-clock.ts'
import type { Context } from './tone-nodes.ts'
import { Gain } from './tone-nodes.ts'

/** Length of the cross-fade between the places, and of a change of volume, s. */
const fadeS = 0.04

/** What the loop passes on its way to the listener. */
export type AuditionGraph = {
  /** The node to play loops into. */
  readonly input: Gain
  /** How long the responses go on after their input ends, s. */
  readonly ringS: number
  setResponses(responses: PlaceResponses): void
  /** Linear gain of each place; faded while something is heard. */
  setPlaceGains(gains: Record<AuditionPlace, number>): void
  /** Linear gain of the volume; faded while something is heard. */
  setVolumeGain(gain: number): void
  /** Brings every change under way to its end at once; for when nothing is heard. */
  settle(): void
  dispose(): void
}

/**
 * Builds
 *
 *   input → convolver `here`  → gain ┐
 *         → convolver `front` → gain ┴→ volume → ceiling at −1 dBFS → output
 *
 * with a unit impulse for both responses.
 *
 * @param wiring  context and clock, the linear gains to begin with, and whether anything is heard now
 */
export function createAuditionGraph(wiring: {
  context: Context
  clock: SoundClock
  placeGains: Record<AuditionPlace, number>
  volumeGain: number
  isHeard: () => boolean
}): AuditionGraph {
  const { context, clock, isHeard } = wiring
  const input = new Gain({ context })
  const volume = new Gain({ context, gain: wiring.volumeGain })
  const volumeFader = createFader({ param: volume.gain, clock, gain: wiring.volumeGain, rampS: fadeS })
  const ceiling = createCeiling(context)
  volume.connect(ceiling.input)
  const way = (first: number) => {
    const lane = createResponseLane({ context, clock, input, isHeard })
    const outlet = new Gain({ context, gain: first })
    lane.output.connect(outlet)
    outlet.connect(volume)
    return { lane, outlet, fader: createFader({ param: outlet.gain, clock, gain: first, rampS: fadeS }) }
  }
  const ways = { here: way(wiring.placeGains.here), front: way(wiring.placeGains.front) }
  const both = [ways.here, ways.front]
  const move = (fader: Fader, gain: number): void => {
    if (isHeard()) fader.fadeTo(gain)
    else fader.jumpTo(gain)
  }
  return {
    input,
    get ringS() {
      return Math.max(ways.here.lane.ringS, ways.front.lane.ringS)
    },
    setResponses({ here, front }) {
      ways.here.lane.set(here)
      ways.front.lane.set(front)
    },
    setPlaceGains(gains) {
      move(ways.here.fader, gains.here)
      move(ways.front.fader, gains.front)
    },
    setVolumeGain: (gain) => move(volumeFader, gain),
    settle() {
      for (const { lane } of both) lane.settle()
    },
    dispose() {
      for (const { lane, outlet } of both) {
        lane.dispose()
        outlet.dispose()
      }
      for (const node of [input, volume, ceiling]) node.dispose()
    },
  }
}
