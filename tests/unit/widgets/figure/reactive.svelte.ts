/** A value that what depends on it is told of. */
export function reactive<T>(first: T): { value: T } {
  let value = $state(first)
  return {
    get value() {
      return value
    },
    set value(next) {
      value = next
    },
  }
}

/** Runs a function now and whenever what it reads changes, until the returned function is called. */
export function whenever(run: () => void): () => void {
  return $effect.root(() => {
    $effect(run)
  })
}
