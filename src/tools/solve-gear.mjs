// npm run solve-gear: solves the demo rigs' cabinets by boundary elements and writes content/gear/solved/*.bin.
// With names behind it, only those rigs. To be run after a change of the demo gear or of the solver; a test compares some lines of the files with fresh ones.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import {
  directionTable,
  expansionLine,
  highFrequencyRadiation,
  makeAir,
  packExpansionTables,
  solveCabinet,
  tabulatedRadiation,
} from '../acoustics/index.ts'
import { directionLines, highestHz, solvedCeilingHz, solvedFrequenciesHz } from '../engine/solved-frequencies.ts'
import { cabinetKey, wayCabinet } from '../engine/solved-gear.ts'

const air = makeAir()
mkdirSync('content/gear/solved', { recursive: true })
const asked = process.argv.slice(2)
for (const name of asked.length > 0 ? asked : ['top-over-sub', 'column-on-base', 'compact-two-way']) {
  const rig = JSON.parse(readFileSync(`content/gear/${name}.json`, 'utf8'))
  const tables = new Map()
  for (const cabinet of rig.cabinets) {
    for (const way of cabinet.ways) {
      const start = performance.now()
      const box = wayCabinet(cabinet, way)
      const frequenciesHz = solvedFrequenciesHz(way)
      const lines = []
      let frame
      for (const frequencyHz of frequenciesHz) {
        const { expansion } = solveCabinet(box, frequencyHz, air, { method: 'boundary-elements' })
        lines.push(expansionLine(expansion))
        frame = { centreZM: expansion.centreZM, radiusM: expansion.radiusM }
      }
      const table = { speedOfSoundMps: air.speedOfSoundMps, densityKgM3: air.densityKgM3, ...frame, lines }
      if (frequenciesHz.at(-1) === solvedCeilingHz) table.directions = directionsAbove(box, table)
      tables.set(cabinetKey(box), table)
      const seconds = ((performance.now() - start) / 1000).toFixed(1)
      console.log(`${name}, ${cabinet.name}, ${way.name}: ${lines.length} frequencies, ${seconds} s`)
    }
  }
  const bytes = packExpansionTables(tables)
  writeFileSync(`content/gear/solved/${name}.bin`, bytes)
  console.log(`content/gear/solved/${name}.bin: ${(bytes.length / 1000).toFixed(0)} kB`)
}

/** Levels all round above the boundary elements, from the high-frequency model joined to the last solved line. */
function directionsAbove(box, table) {
  const anchor = tabulatedRadiation(table, solvedCeilingHz, air)
  const [weight, moment] = box.drivers.reduce(
    ([sum, first], { yM, gain = 1 }) => [sum + gain, first + gain * yM],
    [0, 0],
  )
  return directionTable((frequencyHz) => highFrequencyRadiation(box, frequencyHz, air, anchor), {
    sourceYM: moment / weight,
    fromHz: solvedCeilingHz,
    toHz: highestHz,
    perOctave: directionLines,
  })
}
