// A rig of the reader's own, small and soon solved.

/** One small box under a name. */
export const smallRig = (name: string) => ({
  name,
  cabinets: [
    {
      name: 'own box',
      widthM: 0.2,
      heightM: 0.3,
      depthM: 0.2,
      frontCentre: { xM: 0, yM: 1.6, zM: 0 },
      ways: [{ name: 'drivers', drivers: [{ kind: 'piston' as const, radiusM: 0.06, xM: 0.02, yM: 0 }] }],
    },
  ],
})

/** What the device keeps when a reader has saved it. */
export const keptSmallRig = (key: string, name: string): string =>
  JSON.stringify({ version: 1, rigs: [{ key, name, rig: smallRig(name) }] })
