import type { ArrivingPeak } from './arriving-peak.ts'
import type { AuditionPlace, PlaceGainsDb } from './audition-types.ts'
import { safePeak } from './ceiling.ts'
import { gainFromDb, placeGains } from './gain.ts'
import { callAfter, type SoundClock } from './sound-clock.ts'

/** After a change, how long what came before may still be heard, s: the longest response of a hall, and two exchanges with their settling. */
const goneAfterS = 4

/** How loud both places are played: at the volume, or lower by one gain for both, so that nothing reaches the ceiling. */
export type SafeLevel = {
  /** By how many dB the volume is undercut, 0 or more. */
  readonly turnedDownDb: number
  setPlace(place: AuditionPlace): void
  setVolumeGain(gain: number): void
  setGainsDb(gainsDb: PlaceGainsDb): void
  /**
   * Makes room for what is to arrive from now on, with its gains, then calls back to bring it in; at once, unless something is
   * heard that has to be turned down first. It is turned up again only when what came before has gone. A loop that begins while
   * another fades and rings out is heard `over` it: their peaks may meet, and there is room for both.
   */
  admit(next: { arriving: ArrivingPeak; gainsDb: PlaceGainsDb; over?: boolean; bringIn: () => void }): void
  /** Forgets what came before; for when nothing is heard. */
  settle(): void
}

/**
 * Keeps a level safe. Every gain that changes goes in one straight line from one safe value to the next, and each place has
 * one gain alone, so that no moment between is louder than the louder end.
 *
 * @param wiring  clock, the state to begin with, whether anything is heard, what takes the gain of each place and returns the time
 *                of its arrival, and what is told by how many dB the volume is undercut whenever that changes
 */
export function createSafeLevel(wiring: {
  clock: SoundClock
  arriving: ArrivingPeak
  volumeGain: number
  isHeard: () => boolean
  play: (gains: Record<AuditionPlace, number>) => number
  onTurnedDown: (decibels: number) => void
}): SafeLevel {
  const { clock, isHeard, play } = wiring
  let { arriving: newest, volumeGain } = wiring
  let arrivals = [newest]
  let place: AuditionPlace = 'here'
  let gainsDb: PlaceGainsDb = { here: 0, front: 0 }
  let turnedDownDb = 0

  const update = (): number => {
    const level = Math.min(...arrivals.map((arriving) => safeGain(volumeGain, gainsDb, arriving)))
    const gains = placeGains(place, gainsDb)
    const reachedS = play({ here: gains.here * level, front: gains.front * level })
    const before = turnedDownDb
    turnedDownDb = level === volumeGain ? 0 : 20 * Math.log10(volumeGain / level)
    if (turnedDownDb !== before) wiring.onTurnedDown(turnedDownDb)
    return reachedS
  }
  const settle = (): void => {
    if (arrivals.length === 1) return
    arrivals = [newest]
    update()
  }

  update()
  return {
    get turnedDownDb() {
      return turnedDownDb
    },
    setPlace(next) {
      place = next
      update()
    },
    setVolumeGain(gain) {
      volumeGain = gain
      update()
    },
    setGainsDb(next) {
      gainsDb = next
      update()
    },
    admit({ arriving, gainsDb: next, over = false, bringIn }) {
      const loudest = over ? sumOf(newest, arriving) : arriving
      newest = arriving
      gainsDb = next
      arrivals = isHeard() ? [...arrivals, loudest] : [arriving]
      const reachedS = update()
      if (!isHeard()) {
        bringIn()
        return
      }
      if (reachedS <= clock.nowS()) bringIn()
      else callAfter(clock, reachedS, bringIn)
      clock.callAt(reachedS + goneAfterS, () => {
        if (newest === arriving) settle()
      })
    },
    settle,
  }
}

/** Where two peaks meet. */
const sumOf =
  (one: ArrivingPeak, other: ArrivingPeak): ArrivingPeak =>
  (place, enough) =>
    one(place, enough / 2) + other(place, enough / 2)

/** The volume, or what keeps the louder place at the safe peak. */
function safeGain(volumeGain: number, gainsDb: PlaceGainsDb, arriving: ArrivingPeak): number {
  return (['here', 'front'] as const).reduce((level, place) => {
    const gain = gainFromDb(gainsDb[place])
    return Math.min(level, safePeak / (arriving(place, safePeak / (level * gain)) * gain))
  }, volumeGain)
}
