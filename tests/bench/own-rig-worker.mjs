// A worker of the own-rig bench: answers the solver's questions that it is sent, as the workers of a page do.
import { parentPort } from 'node:worker_threads'
import { answer } from '../../src/engine/workers/tasks.ts'

parentPort.on('message', async ({ task, question }) => {
  parentPort.postMessage((await answer(task, question)).answer)
})
