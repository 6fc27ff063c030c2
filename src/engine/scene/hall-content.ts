import finishes from '../../../content/halls/finishes.json' with { type: 'json' }
import tidewater from '../../../content/halls/tidewater-grange.json' with { type: 'json' }
import { type HallState, hallStates } from './hall-terms.ts'

/** The states of the demo hall. For pages at build and for tests; a widget gets them as props. */
export const demoHallStates: HallState[] = hallStates(tidewater, finishes)
export const demoHallTitle: string = tidewater.title
