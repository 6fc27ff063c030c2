import type { ExpansionTable } from '../../acoustics/index.ts'
import { answer, CodeMissing, learn, messageOf, type TaskName } from './tasks.ts'

type Message = { id: number; task: TaskName; question: unknown } | { learn: string; table: ExpansionTable }

/** What is to be learnt is learnt before the questions behind it are answered. */
let learnt: Promise<void> = Promise.resolve()

// Unpacks the question, has it answered, hands typed arrays back.
self.onmessage = async ({ data }: MessageEvent<Message>) => {
  if ('learn' in data) {
    learnt = learnt.then(() => learn(data.learn, data.table)).catch(() => {})
    return
  }
  try {
    await learnt
    const reply = await answer(data.task, data.question)
    const buffers = Object.values(reply.answer as object)
      .filter(ArrayBuffer.isView)
      .map((view) => view.buffer)
    self.postMessage({ id: data.id, ...reply }, { transfer: buffers as ArrayBuffer[] })
  } catch (error) {
    self.postMessage({ id: data.id, error: messageOf(error), broken: error instanceof CodeMissing })
  }
}
self.postMessage({ ready: true })
