import type { AuditionPlace, PlaceResponses } from './audition-types.ts'
import { createCeiling } from './ceiling-nodes.ts'
import { createFader, type Fader } from './fader.ts'
import { createResponseLane } from './response-lane.ts'
import type { SoundClock } from './sound-clock.ts'
import type { Context } from './tone-nodes.ts'
import { Gain } from './tone-nodes.ts'

/** Length of the cross-fade between the places, and of a change of level, s. */
const fadeS = 0.04

/** How fast everything is faded out that rings still, when something else is to be heard, s. */
const hushS = 0.1

/** What the loop passes on its way to the listener. */
export type AuditionGraph = {
  /** The node to play loops into. */
  readonly input: Gain
  /** How long the responses go on after their input ends, s. */
  readonly ringS: number
  setResponses(responses: PlaceResponses): void
  /** Linear gain of each place; faded while something is heard. Returns the time of arrival, s. */
  setPlaceGains(gains: Record<AuditionPlace, number>): number
  /** Fades out everything, what rings still as well. Returns when silence is reached, s. */
  hush(): number
  /** Forgets what rings still, and lets everything through again; for when silence is reached. */
  unhush(): void
  /** Highest sample that leaves, re digital full scale; see `CeilingNodes`. */
  peak(): number
  /** Brings every change under way to its end at once; for when nothing is heard. */
  settle(): void
  dispose(): void
}

/**
 * Builds
 *
 *   input → convolver `here`  → gain ┐
 *         → convolver `front` → gain ┴→ hush → ceiling at −1 dBFS → output
 *
 * with a unit impulse for both responses and both gains at nought.
 *
 * @param wiring  context and clock, and whether anything is heard now
 */
export function createAuditionGraph(wiring: {
  context: Context
  clock: SoundClock
  isHeard: () => boolean
}): AuditionGraph {
  const { context, clock, isHeard } = wiring
  const input = new Gain({ context })
  const ceiling = createCeiling(context)
  const last = new Gain({ context, gain: 1 })
  const lastFader = createFader({ param: last.gain, clock, gain: 1, rampS: hushS })
  last.connect(ceiling.input)
  const way = () => {
    const lane = createResponseLane({ context, clock, input, isHeard })
    const outlet = new Gain({ context, gain: 0 })
    lane.output.connect(outlet)
    outlet.connect(last)
    return { lane, outlet, fader: createFader({ param: outlet.gain, clock, gain: 0, rampS: fadeS }) }
  }
  const ways = { here: way(), front: way() }
  const both = [ways.here, ways.front]
  const move = (fader: Fader, gain: number): number => {
    if (isHeard()) return fader.fadeTo(gain)
    fader.jumpTo(gain)
    return clock.nowS()
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
      return Math.max(move(ways.here.fader, gains.here), move(ways.front.fader, gains.front))
    },
    hush: () => lastFader.fadeTo(0),
    unhush() {
      // What rang on behind it must not be heard now.
      for (const { lane } of both) lane.flush()
      lastFader.jumpTo(1)
    },
    peak: () => ceiling.peak(),
    settle() {
      for (const { lane } of both) lane.settle()
    },
    dispose() {
      for (const { lane, outlet } of both) {
        lane.dispose()
        outlet.dispose()
      }
      for (const node of [input, last, ceiling]) node.dispose()
    },
  }
}
