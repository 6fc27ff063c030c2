import { massLawDb } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { decibels, type Fact } from '../fact.ts'

/** A light wall, kg/m²: about that of boards two centimetres thick. */
const sheetKgM2 = 10

/** What a single light sheet keeps back of a low note and of a high one: why next door hears the bass. */
export function outsideFacts() {
  const keptBackDb = (frequencyHz: number) => decibels(massLawDb(sheetKgM2, frequencyHz, airOf(usualAir)))
  return {
    'sheet-mass': { value: sheetKgM2, unit: 'kg/m²' },
    'sheet-keeps-63': keptBackDb(63),
    'sheet-keeps-2k': keptBackDb(2000),
  } satisfies Record<string, Fact>
}
