// Part of npm run bench: a whole rig of the reader's own, a top of two ways over a sub, solved as a page solves it.
import { once } from 'node:events'
import { readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { Worker } from 'node:worker_threads'
import { solvingPlan } from '../../src/engine/solving/solve-table.ts'
import { solvingWorkers } from '../../src/engine/workers/solve-rig.ts'
import { solveWays } from '../../src/engine/workers/solve-ways.ts'

/** Prints seconds and processor seconds of the lines and of the treble, with new workers and with those that have done it once. */
export async function ownRigBench() {
  const rig = JSON.parse(readFileSync('content/gear/top-over-sub.json', 'utf8'))
  for (const count of new Set([1, solvingWorkers(availableParallelism())])) {
    const workers = Array.from({ length: count }, () => new Worker(new URL('./own-rig-worker.mjs', import.meta.url)))
    for (const round of ['cold', 'warm']) {
      const told = []
      const askEach = async (channel, task, questions, onAnswer) => {
        const start = performance.now()
        const spent = process.cpuUsage()
        const waiting = [...questions.entries()]
        await Promise.all(workers.map((worker) => askedOf(worker, task, waiting, onAnswer)))
        const { user, system } = process.cpuUsage(spent)
        const seconds = (performance.now() - start) / 1000
        told.push(`${channel} ${seconds.toFixed(2)} s (processor ${((user + system) / 1e6).toFixed(2)} s)`)
        return true
      }
      const { ways } = solvingPlan({ rig, detail: 'onDemand' })
      const start = performance.now()
      await solveWays({ askEach }, ways, new AbortController().signal, { onProgress: undefined, onUsable: () => {} })
      const seconds = ((performance.now() - start) / 1000).toFixed(2)
      const megabytes = (process.memoryUsage().rss / 1e6).toFixed(0)
      console.log(
        `own rig, top and sub, ${count} ${count > 1 ? 'workers' : 'worker'}, ${round}: ${seconds} s, ${told.join(', ')}; memory of the process ${megabytes} MB`,
      )
    }
    for (const worker of workers) await worker.terminate()
  }
}

async function askedOf(worker, task, waiting, onAnswer) {
  for (let next = waiting.shift(); next !== undefined; next = waiting.shift()) {
    const [index, question] = next
    worker.postMessage({ task, question })
    const [answer] = await once(worker, 'message')
    onAnswer(answer, index)
  }
}
