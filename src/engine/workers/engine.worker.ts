import type { ExpansionTable } from '../../acoustics/index.ts'
import { learn, prepare, type TaskName, tasks } from './tasks.ts'

type Message = { id: number; task: TaskName; question: never } | { learn: string; table: ExpansionTable }

// Unpacks the question, calls the pure function, hands typed arrays back.
self.onmessage = async ({ data }: MessageEvent<Message>) => {
  if ('learn' in data) return learn(data.learn, data.table)
  try {
    await prepare(data.question)
    const answer = tasks[data.task](data.question)
    const buffers = Object.values(answer)
      .filter(ArrayBuffer.isView)
      .map((view) => view.buffer)
    self.postMessage({ id: data.id, answer }, { transfer: buffers as ArrayBuffer[] })
  } catch (error) {
    self.postMessage({ id: data.id, error: error instanceof Error ? error.message : String(error) })
  }
}
