/** Drops the oldest entries of a map until one more fits: a Map remembers the order of insertion. */
export function makeRoom<Key>(map: Map<Key, unknown>, most: number): void {
  for (const oldest of map.keys()) {
    if (map.size < most) return
    map.delete(oldest)
  }
}
