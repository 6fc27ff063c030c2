/** Marks in order, cut where one was not measured: a line does not run over what is not known. */
export function measuredRuns<T>(marks: readonly (T | undefined)[]): T[][] {
  const runs: T[][] = []
  let run: T[] | undefined
  for (const mark of marks) {
    if (mark === undefined) run = undefined
    else if (run) run.push(mark)
    else {
      run = [mark]
      runs.push(run)
    }
  }
  return runs
}
