import { downWords, levelText } from '../../words/levels.ts'
import type { SetUp } from '../decide/evening-plans.ts'
import * as say from './guess-set-up.messages.ts'

/** What a set-up does: how much less bass there is at the table and on the floor, dB. */
export type SetUpDrops = { setUp: SetUp; tableDb: number; floorDb: number }

/** How much less the table is to get, dB. */
export const wantedDb = 6

/** The set-up that gives the table what is wanted for the least loss on the floor; undefined if none does. */
export const bestSetUp = (drops: readonly SetUpDrops[]): SetUpDrops | undefined =>
  drops.filter(({ tableDb }) => tableDb >= wantedDb).toSorted((a, b) => a.floorDb - b.floorDb)[0]

/** How the guess lay, and what each of the three does. */
export function guessSetUpVerdict(choice: SetUp | 'none', drops: readonly SetUpDrops[]): string {
  const best = bestSetUp(drops)
  const chosen = drops.find(({ setUp }) => setUp === choice)
  const words = [
    ...(chosen
      ? [
          choice === best?.setUp
            ? say.right()
            : say.wrong({
                setUp: chosen.setUp,
                table: downWords(-chosen.tableDb),
                floor: downWords(-chosen.floorDb),
              }),
        ]
      : []),
    ...(best
      ? [say.best({ setUp: best.setUp, table: levelText(best.tableDb), floor: downWords(-best.floorDb) })]
      : [say.none()]),
  ]
  return words.join(' ')
}
