// A worker of the own-box bench: solves the bands that it is sent.
import { parentPort } from 'node:worker_threads'
import { ownBoxBand } from '../../src/engine/questions/own-box/own-box.ts'

parentPort.on('message', (question) => {
  const start = performance.now()
  const { unknowns } = ownBoxBand(question)
  parentPort.postMessage({ nominalHz: question.nominalHz, unknowns, timeMs: performance.now() - start })
})
