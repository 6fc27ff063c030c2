// Runs before the first paint: the reader's theme and units, kept on this device, onto the root element.
;(() => {
  const root = document.documentElement
  root.dataset.script = 'on'
  let kept = {}
  try {
    kept = JSON.parse(localStorage.getItem('round-the-back.preferences') ?? '{}') ?? {}
  } catch {
    // Storage blocked or spoilt: the defaults stand.
  }
  if (kept.theme === 'light' || kept.theme === 'dark') root.dataset.theme = kept.theme
  root.dataset.units = kept.units === 'ft' ? 'ft' : 'm'
})()
