// npm run solve-gear: solves the demo rigs' cabinets by boundary elements and writes content/gear/solved/*.bin, and the pattern of
// lesson 2's box and writes content/gear/solved/box-pattern.json. With names behind it (a rig's, or box-pattern), only those.
// To be run after a change of the demo gear or of the solver; tests compare some lines of the files with fresh ones.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { packExpansionTables } from '../acoustics/index.ts'
import { boxPattern, boxShape } from '../engine/questions/box/box-and-wave.ts'
import { lessonRig } from '../engine/scene/lesson-rig.ts'
import { plannedLines } from '../engine/solving/planned-lines.ts'
import { solvedDirections, solvedLines, solvingPlan } from '../engine/solving/solve-table.ts'

const folder = 'content/gear/solved'
const detail = 'beforehand'
const rigs = readdirSync('content/gear').flatMap((file) => (file.endsWith('.json') ? [file.slice(0, -5)] : []))

mkdirSync(folder, { recursive: true })
const asked = process.argv.slice(2)
for (const name of asked.length > 0 ? asked : [...rigs, 'box-pattern']) {
  if (name === 'box-pattern') solveBoxPattern()
  else if (rigs.includes(name)) solveRig(name)
  else throw new Error(`"${name}" is nothing to solve; there is ${[...rigs, 'box-pattern'].join(', ')}`)
}

function solveRig(name) {
  const { ways } = solvingPlan({ rig: rigOf(name), detail })
  const tables = new Map(ways.map(({ key }) => [key, { lines: [] }]))
  const start = performance.now()
  const seconds = () => ((performance.now() - start) / 1000).toFixed(0)
  const questions = plannedLines(ways)
  for (const { question, keys } of questions) {
    const { lines, frame } = solvedLines(question)
    for (const [set, key] of keys.entries()) {
      tables.set(key, { ...frame, lines: [...tables.get(key).lines, lines[set]] })
    }
  }
  console.log(`${name}: ${questions.length} frequencies, ${seconds()} s`)
  for (const { key, cabinet, directionsHz } of ways) {
    if (directionsHz.length === 0) continue
    const table = tables.get(key)
    table.directions = solvedDirections({ cabinet, table, frequenciesHz: directionsHz, detail })
    console.log(`${name}: a way's treble, ${seconds()} s`)
  }
  write(`${name}.bin`, packExpansionTables(tables))
}

function solveBoxPattern() {
  const top = rigOf(lessonRig).cabinets.find(({ name }) => name === 'top')
  const pattern = boxPattern(boxShape({ ...top, drivers: top.ways[0].drivers }))
  // Nine digits: rounding stays far below every tolerance, and the file is the same on every machine.
  const rounded = (_, value) => (typeof value === 'number' ? Number(value.toPrecision(9)) : value)
  write('box-pattern.json', `${JSON.stringify(pattern, rounded)}\n`)
}

function rigOf(name) {
  return JSON.parse(readFileSync(`content/gear/${name}.json`, 'utf8'))
}

function write(name, content) {
  writeFileSync(`${folder}/${name}`, content)
  console.log(`${folder}/${name}: ${(content.length / 1000).toFixed(0)} kB`)
}
