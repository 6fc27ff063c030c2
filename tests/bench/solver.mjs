// Part of npm run bench: the boundary-element solver of the demo top, band by band, and the same dense algebra in NumPy.
import { spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import { Worker } from 'node:worker_threads'
import { planPressure } from '../../src/acoustics/field/plan-field.ts'
import { makeAir, rigField, solveCabinet, solveCabinetGroup, thirdOctaveBands } from '../../src/acoustics/index.ts'
import { solvingOrderHz } from '../../src/engine/questions/own-box/own-box-terms.ts'
import { steerTogether, steerTogetherPlan, steerTogetherStep } from '../../src/engine/questions/steer/steer-together.ts'
import { addSolvedCabinets, solvedModel } from '../../src/engine/scene/solved-gear.ts'

const air = makeAir()
const top = {
  widthM: 0.32,
  heightM: 0.56,
  depthM: 0.3,
  drivers: [{ kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.12 }],
}

const cube = { widthM: 0.6, heightM: 0.6, depthM: 0.6, drivers: [{ kind: 'piston', radiusM: 0.2, xM: 0, yM: -0.05 }] }

/** Places far off, evenly all round. */
const allRound = Array.from({ length: 120 }, (_, i) => {
  const cosine = -1 + (i + 0.5) / 60
  const s = 20 * Math.sqrt(1 - cosine ** 2)
  return { xM: s * Math.cos(2.4 * i), yM: s * Math.sin(2.4 * i), zM: 20 * cosine }
})
const levelsOf = (pressureAt) =>
  allRound.map((place) => {
    const { re, im } = pressureAt(place)
    return 20 * Math.log10(Math.hypot(re, im))
  })

/**
 * Error against unknowns and seconds: a single box, and the same as a group of one, which has fewer points and is solved by steps.
 * The finest mesh of the first is the measure of both; what it is worth, the evidence says.
 */
export function convergenceBench() {
  console.log('\nConvergence: greatest error, dB, all round, down to 20 and to 40 dB under the loudest direction')
  for (const [name, cabinet, frequencyHz] of [
    ['top, 0.32 × 0.56 × 0.30 m', top, 500],
    ['top, 0.32 × 0.56 × 0.30 m', top, 2000],
    ['cube of 0.6 m', cube, 1000],
  ]) {
    console.log(`${name}, ${frequencyHz} Hz`)
    const method = 'boundary-elements'
    const finest = levelsOf(solveCabinet(cabinet, frequencyHz, air, { method, elementsPerWavelength: 20 }).pressureAt)
    for (const elementsPerWavelength of [4, 6, 8, 12]) {
      const solve = () => solveCabinet(cabinet, frequencyHz, air, { method, elementsPerWavelength })
      printConvergence('polynomials', finest, solve, (solved) => solved.pressureAt)
    }
    for (const pointsOfSide of [4, 6, 8]) {
      const boxes = [{ cabinet, position: { xM: 0, yM: 0, zM: 0 } }]
      const solve = () => solveCabinetGroup(boxes, 'free-air', frequencyHz, air, { pointsOfSide })
      printConvergence('as a group', finest, solve, (solved) => (place) => solved.pressureAt(0, place))
    }
  }
}

/** Steered sets of the demo's low box solved as bodies with their stacks, all lines that the figure needs: one thread. */
export function groupBench() {
  const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
  addSolvedCabinets(readFileSync('content/gear/solved/top-over-sub.bin'))
  console.log('\nSteered sets solved together, one thread')
  const [outdoors, wall] = [
    { kind: 'outdoors', floor: 'hard' },
    { kind: 'wall', gapM: 1, floor: 'hard' },
  ]
  for (const [arrangement, count, spacingM, surroundings] of [
    ['pair', 2, 1.35, outdoors],
    ['pair', 2, 1.35, wall],
    ['trio', 3, 0.7, outdoors],
    ['end-fire', 6, 1.2, outdoors],
    ['row', 6, 1.5, outdoors],
  ]) {
    const set = { arrangement, count, spacingM, delayS: 0.0039, inverted: true, turned: false, levelDb: 0 }
    const places = { front: { xM: 0, zM: 5 }, behind: { xM: 2, zM: surroundings === wall ? -2.5 : -8 } }
    const rest = { point: false, band: { fromHz: 40, toHz: 100 }, frequencyHz: 63, error: 'none' }
    const question = { rig, set, surroundings, ...places, ...rest }
    const start = performance.now()
    const spent = process.cpuUsage()
    const steps = steerTogetherPlan(question).map(steerTogetherStep)
    steerTogether({ ...question, steps })
    const { user } = process.cpuUsage(spent)
    console.log(
      `  ${arrangement} of ${count}, ${surroundings.kind}: ${steps.length} lines in ${((performance.now() - start) / 1000).toFixed(2)} s, ` +
        `processor ${(user / 1e6).toFixed(2)} s`,
    )
  }
}

function printConvergence(method, finest, solve, pressureOf) {
  const start = performance.now()
  const solved = solve()
  const seconds = (performance.now() - start) / 1000
  const loudest = Math.max(...finest)
  const differences = levelsOf(pressureOf(solved)).map((level, i) => Math.abs(level - finest[i]))
  const worst = (downTo) => Math.max(...differences.filter((_, i) => finest[i] > loudest - downTo)).toFixed(3)
  console.log(
    `  ${method.padEnd(12)}${String(solved.unknowns / 8).padStart(6)} unknowns an eighth ${seconds.toFixed(2).padStart(7)} s` +
      `   error ${worst(20).padStart(7)} ${worst(40).padStart(7)} dB`,
  )
}

/** Prints time and unknowns of each third octave from 31.5 Hz to 2 kHz, one thread. */
export function solverBench() {
  console.log('\nBoundary elements of a top of 0.32 × 0.56 × 0.30 m, one cone, one thread')
  let spentMs = 0
  let largest = { unknowns: 0, timeMs: 0 }
  for (const { centreHz, nominalHz } of thirdOctaveBands(31.5, 2000)) {
    const begin = performance.now()
    const solved = solveCabinet(top, centreHz, air)
    const timeMs = performance.now() - begin
    const { unknowns } = solved
    spentMs += timeMs
    if (timeMs > largest.timeMs) largest = { unknowns, timeMs }
    console.log(
      `${String(nominalHz).padStart(7)} Hz ${String(unknowns).padStart(6)} points ${timeMs.toFixed(0).padStart(6)} ms   error ${solved.estimatedErrorDb.toFixed(3)} dB`,
    )
  }
  const megabytes = process.memoryUsage().rss / 1e6
  console.log(
    `19 bands in ${(spentMs / 1000).toFixed(2)} s, without the coarser meshes that tell the error; memory of the process ${megabytes.toFixed(0)} MB`,
  )
  fieldMapBench()
  nativeBench(Math.round(largest.unknowns / 8))
}

/** The reader's own box as the page solves it: 19 bands of the demo top with both ways, two workers, in the page's order. */
export async function ownBoxBench() {
  const { cabinets } = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
  const box = cabinets.find(({ name }) => name === 'top')
  const workers = [1, 2].map(() => new Worker(new URL('./own-box-worker.mjs', import.meta.url)))
  for (const round of ['cold', 'warm']) {
    const waiting = [...solvingOrderHz]
    const start = performance.now()
    const spent = process.cpuUsage()
    await Promise.all(workers.map((worker) => bandsOf(worker, box, waiting)))
    const { user, system } = process.cpuUsage(spent)
    console.log(
      `own box, 19 bands of two ways on two workers, ${round}: ${((performance.now() - start) / 1000).toFixed(2)} s, ` +
        `processor ${((user + system) / 1e6).toFixed(2)} s`,
    )
  }
  for (const worker of workers) await worker.terminate()
}

async function bandsOf(worker, box, waiting) {
  for (let nominalHz = waiting.shift(); nominalHz !== undefined; nominalHz = waiting.shift()) {
    worker.postMessage({ box, nominalHz, solved: true })
    await once(worker, 'message')
  }
}

/** A plan of 160 × 120 points of four ways (two tops side by side), from stored expansions. */
function fieldMapBench() {
  addSolvedCabinets(readFileSync('content/gear/solved/top-over-sub.bin'))
  const { cabinets } = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
  const [box] = cabinets
  const rig = {
    name: 'two tops',
    cabinets: [-1.5, 1.5].map((xM) => ({ ...box, name: `top ${xM}`, frontCentre: { ...box.frontCentre, xM } })),
  }
  const field = rigField(rig, air, solvedModel)
  const grid = { xMinM: -6, xMaxM: 6, zMinM: -3, zMaxM: 6, columns: 160, rows: 120, heightM: 1.6 }
  for (const frequencyHz of [125, 500, 2000]) {
    planPressure(field, grid, frequencyHz)
    const begin = performance.now()
    planPressure(field, grid, frequencyHz)
    console.log(
      `field map of 160 × 120 points, four ways, ${frequencyHz} Hz: ${(performance.now() - begin).toFixed(0)} ms`,
    )
  }
}

/** A dense complex least-squares problem of the size of the largest band's eighth, in NumPy, where Python has it. */
function nativeBench(size) {
  const script = `
import time, numpy as np
n = ${size}
a = np.random.rand(n + n // 3, n) + 1j * np.random.rand(n + n // 3, n)
b = np.random.rand(n + n // 3, 1) + 0j
t = time.perf_counter()
np.linalg.solve(a.conj().T @ a, a.conj().T @ b)
print(f"NumPy {np.__version__}: one dense complex problem of that size, {n} unknowns: {(time.perf_counter() - t) * 1000:.0f} ms")
`
  const python = spawnSync('python3', ['-c', script], { encoding: 'utf8' })
  const debian = python.status === 0 ? python : spawnSync('/usr/bin/python3', ['-c', script], { encoding: 'utf8' })
  console.log(debian.status === 0 ? debian.stdout.trim() : 'NumPy is not installed here: no native yardstick.')
}
