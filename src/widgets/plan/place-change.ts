import type { PlaceAnswer } from '../../engine/questions/plan/plan-terms.ts'

/** Of a place against the main one. */
type Differences = Pick<PlaceAnswer['reMain'], 'bassDb' | 'trebleDb'>

/** A difference that is heard, dB. */
const heardDb = 3

/**
 * How a place differs from the main one, in the whole decibels that the table shows. 'more': really more bass; 'both': more bass and less treble;
 * 'keeps': about as much bass, less treble; 'loses': less of both, of treble more; 'duller': the treble stays behind the bass, neither by much;
 * 'thin': less bass, and less is missing of the treble; 'brighter': the bass stays behind the treble; the rest alike: 'as', 'louder', 'quieter'.
 */
export type PlaceChange =
  | 'more'
  | 'both'
  | 'keeps'
  | 'loses'
  | 'duller'
  | 'thin'
  | 'brighter'
  | 'as'
  | 'louder'
  | 'quieter'

const whole = ({ bassDb, trebleDb }: Differences) => ({
  bass: Math.round(bassDb),
  treble: Math.round(trebleDb),
})

export function placeChange(reMain: Differences): PlaceChange {
  const { bass, treble } = whole(reMain)
  if (bass - treble >= heardDb) {
    if (bass >= heardDb) return treble <= -heardDb ? 'both' : 'more'
    if (treble > -heardDb) return 'duller'
    return bass <= -heardDb ? 'loses' : 'keeps'
  }
  if (treble - bass >= heardDb) return bass <= -heardDb ? 'thin' : 'brighter'
  if (Math.abs(bass) < heardDb && Math.abs(treble) < heardDb) return 'as'
  return bass + treble > 0 ? 'louder' : 'quieter'
}

/**
 * Of some places the one to tell of: whose treble falls farthest behind its bass; where none does by what is heard, whose bass falls farthest
 * behind its treble; where that is alike everywhere, the one whose level differs most.
 */
export function tellingPlace<T extends { reMain: Differences }>(places: readonly T[]): T | undefined {
  const most = (of: (place: T) => number) => [...places].sort((a, b) => of(b) - of(a))[0]
  const lackDb = ({ reMain }: T) => whole(reMain).bass - whole(reMain).treble
  const dullest = most(lackDb)
  if (dullest && lackDb(dullest) >= heardDb) return dullest
  const brightest = most((place) => -lackDb(place))
  if (brightest && -lackDb(brightest) >= heardDb) return brightest
  return most(({ reMain }) => Math.abs(reMain.bassDb + reMain.trebleDb))
}
