import { type TaskName, tasks } from './tasks.ts'

// Unpacks the question, calls the pure function, hands typed arrays back.
self.onmessage = ({ data }: MessageEvent<{ id: number; task: TaskName; question: never }>) => {
  try {
    const answer = tasks[data.task](data.question)
    const buffers = Object.values(answer)
      .filter(ArrayBuffer.isView)
      .map((view) => view.buffer)
    self.postMessage({ id: data.id, answer }, { transfer: buffers as ArrayBuffer[] })
  } catch (error) {
    self.postMessage({ id: data.id, error: error instanceof Error ? error.message : String(error) })
  }
}
