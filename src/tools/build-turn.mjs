import { readFileSync, rmSync, writeFileSync } from 'node:fs'
import { setTimeout as pause } from 'node:timers/promises'

/**
 * Does a piece of work while no other process of this machine does one under the same name: two builds into one folder would each
 * clear away what the other has written.
 *
 * @param name  file that says who is at it; one that a process left behind which is gone does not count
 */
export async function inBuildTurn(name, work) {
  let hasSaid = false
  while (!isOurs(name)) {
    if (!isAtWork(name)) {
      rmSync(name, { force: true })
      continue
    }
    if (!hasSaid) console.log('Another start is building the site in this folder; waiting for it …')
    hasSaid = true
    await pause(300)
  }
  try {
    return await work()
  } finally {
    rmSync(name, { force: true })
  }
}

/** Takes the turn, if nobody has it; whether it is ours now. */
function isOurs(name) {
  try {
    writeFileSync(name, String(process.pid), { flag: 'wx' })
    return true
  } catch (error) {
    if (error.code === 'EEXIST') return false
    throw error
  }
}

/** Whether the process that has the turn is there. */
function isAtWork(name) {
  try {
    const pid = Number(readFileSync(name, 'utf8'))
    // Signal 0 asks whether a process is there, and does nothing to it. A name that is just being written is somebody's.
    if (pid > 0) process.kill(pid, 0)
    return true
  } catch (error) {
    return error.code === 'EPERM'
  }
}
