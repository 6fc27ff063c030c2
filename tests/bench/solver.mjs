// Part of npm run bench: the boundary-element solver of the demo top, band by band, and the same dense algebra in NumPy.
import { spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import { Worker } from 'node:worker_threads'
import { planPressure } from '../../src/acoustics/field/plan-field.ts'
import { makeAir, rigField, solveCabinet, thirdOctaveBands } from '../../src/acoustics/index.ts'
import { solvingOrderHz } from '../../src/engine/questions/own-box/own-box.ts'
import { addSolvedCabinets, solvedModel } from '../../src/engine/scene/solved-gear.ts'

const air = makeAir()
const top = {
  widthM: 0.32,
  heightM: 0.56,
  depthM: 0.3,
  drivers: [{ kind: 'piston', radiusM: 0.105, xM: 0, yM: -0.12 }],
}

/** Prints time and unknowns of each third octave from 31.5 Hz to 2 kHz, one thread. */
export function solverBench() {
  console.log('\nBoundary elements of a top of 0.32 × 0.56 × 0.30 m, one cone, one thread')
  const start = performance.now()
  let largest = { unknowns: 0, timeMs: 0 }
  for (const { centreHz, nominalHz } of thirdOctaveBands(31.5, 2000)) {
    const begin = performance.now()
    const { unknowns, estimatedErrorDb } = solveCabinet(top, centreHz, air)
    const timeMs = performance.now() - begin
    if (timeMs > largest.timeMs) largest = { unknowns, timeMs }
    console.log(
      `${String(nominalHz).padStart(7)} Hz ${String(unknowns).padStart(6)} panels ${timeMs.toFixed(0).padStart(6)} ms   error ${estimatedErrorDb.toFixed(2)} dB`,
    )
  }
  const megabytes = process.memoryUsage().rss / 1e6
  console.log(
    `19 bands in ${((performance.now() - start) / 1000).toFixed(2)} s; memory of the process ${megabytes.toFixed(0)} MB`,
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
