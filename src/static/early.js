// Runs before the first paint: the reader's theme, units and air, kept on this device, onto the root element.
;(() => {
  const root = document.documentElement
  root.dataset.script = 'on'
  let kept = {}
  try {
    kept = JSON.parse(localStorage.getItem('round-the-back.preferences') ?? '{}') ?? {}
  } catch {
    // Storage blocked or spoilt: the defaults stand.
  }
  const within = (value, min, max) => typeof value === 'number' && value >= min && value <= max
  if (kept.theme === 'light' || kept.theme === 'dark') root.dataset.theme = kept.theme
  root.dataset.units = kept.units === 'ft' ? 'ft' : 'm'
  root.dataset.temperatureC = within(kept.temperatureC, -10, 45) ? kept.temperatureC : 20
  root.dataset.humidityPct = within(kept.humidityPct, 0, 100) ? kept.humidityPct : 50
  // The page in the other language shows what this one does: the address takes its fields along.
  const stay = ({ target }) => {
    const link = target.closest?.('.language')
    if (link) link.href = link.pathname + location.search + location.hash
  }
  addEventListener('click', stay, true)
  addEventListener('auxclick', stay, true)
})()
