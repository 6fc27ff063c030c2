// The acoustics module: everything that the site and anyone else may call. Pure numbers, SI units, time factor e^{+jωt}, levels
// re 20 µPa. Runs in plain Node.
// No page uses baffledPistonDb, spherePiston, pressureFrom, gradientPair, endFireLine, reverberantLevelDb, octaveBands,
// thirdOctaveLevelsDb, readWav, levelChangeDb, writeWav, or yet what of measuring/ sweeps and practice need: they are public for those who use the module by itself (notebooks, other tools, checks from outside).

export { amplitudeLevelDb, amplitudeRatio, energyAverageDb, levelDb } from './bands/decibels.ts'
export { fractionalOctaveBands } from './bands/fractional-octave-bands.ts'
export { type Band, octaveBands, thirdOctaveBands } from './bands/octave-bands.ts'
export { type Complex, divide, fromPolar, magnitude, multiply, squaredMagnitude } from './complex.ts'
export { bandLevelsDb, groupLevelDb, weightedLevelDb } from './field/band-levels.ts'
export { earlySound } from './field/early-sound.ts'
export { equalStrengthM, type Strengths } from './field/equal-strength.ts'
export { type Footprint, footprints, type PlanPoint } from './field/footprint.ts'
export { frontTable } from './field/front-table.ts'
export { type GroundReflection, groundReflection } from './field/ground-reflection.ts'
export { type Absorption, furnishedHall, type Hall, type HallSurface, hallSurfaces, octaveTable } from './field/hall.ts'
export { hallField } from './field/hall-field.ts'
export {
  type EarlySound,
  earlySoundAt,
  type HallLevels,
  hallLevels,
  lateMeanSquarePerW,
  statisticalShare,
} from './field/hall-levels.ts'
export { planOfPressure } from './field/hall-plan.ts'
export { type HallResponseSpec, hallFieldResponse } from './field/hall-response.ts'
export {
  clearPlace,
  type DistanceDatum,
  frontPlaceAtSameDistance,
  frontPoint,
  type ListeningPlace,
  measuredDistanceM,
  type PlanWalls,
  placeAt,
  placeAtMeasuredDistance,
  placeBetweenWalls,
  placePoint,
} from './field/listening-place.ts'
export { massLawDb } from './field/mass-law.ts'
export { dipsHz, risesHz } from './field/path-interference.ts'
export type { PlacedSource } from './field/placed-source.ts'
export { type PlanLevels, type PlanPressure, planLevelReFrontDb } from './field/plan-field.ts'
export { type PlanGrid, planGridPoint } from './field/plan-grid.ts'
export { planWavesReFront } from './field/plan-waves.ts'
export { powerCurve } from './field/power-curve.ts'
export { pressureField, pressureFrom } from './field/pressure-from.ts'
export {
  criticalDistanceM,
  decayTimeS,
  joiningFrequencyHz,
  reverberantLevelDb,
  roomConstantM2,
} from './field/reverberant-field.ts'
export { reverberantTail } from './field/reverberant-tail.ts'
export { checkRig, type Rig, type RigCabinet, type Way } from './field/rig.ts'
export { type RigField, rigField } from './field/rig-field.ts'
export { rigSources } from './field/rig-sources.ts'
export { type HallSize, type ShoeboxMode, shoeboxModesHz } from './field/shoebox-modes.ts'
export { endFireLine, gradientPair } from './field/steered-pairs.ts'
export { type BoxResponse, bestSteeringDrive, widestSteeringDrive } from './field/steering-drive.ts'
export { linesInBand, type SteeringLines, steeringFigures, usableBandHz } from './field/steering-figures.ts'
export { wayResponse } from './field/voiced-way.ts'
export type { Wall } from './field/wall-images.ts'
export { type WalledField, walledField } from './field/walled-field.ts'
export { bassShare, bassShareUpToHz, loudnessBelowHz } from './hearing/bass-share.ts'
export { binomialAtLeast, fewestRightToPass } from './hearing/binomial.ts'
export { cubicSpline } from './hearing/cubic-spline.ts'
export { contourLevelDb, loudnessLevelPhon } from './hearing/equal-loudness.ts'
export { allowedExposureH, venueLimitDbA } from './hearing/exposure.ts'
export { aWeightingDb, cWeightingDb } from './hearing/frequency-weighting.ts'
export { loudnessBark } from './hearing/loudness-bark.ts'
export { matchedLoudnessGains } from './hearing/loudness-match.ts'
export { sharpnessAcum } from './hearing/sharpness.ts'
export { sonesFromPhons } from './hearing/sone-phon.ts'
export { type Loudness, loudnessBands, zwickerLoudness } from './hearing/zwicker-loudness.ts'
export { type BackgroundStanding, backgroundMarginsDb, withoutBackground } from './measuring/background.ts'
export { bandAverages, type Confidence, confidenceOf, enoughDb, pairedDifference } from './measuring/band-averages.ts'
export { type BandColumn, type BandTable, readBandTable, writeBandTable } from './measuring/band-table.ts'
export { windowLength } from './measuring/block-design.ts'
export { type BlockLevels, joinedBlocks, weightings } from './measuring/block-levels.ts'
export { fullScale } from './measuring/clipped-runs.ts'
export { crestDb, leastCrestDb } from './measuring/crest.ts'
export { type DetailEstimates, detailAverages, detailDifference } from './measuring/detail-difference.ts'
export { withDrift } from './measuring/drift.ts'
export {
  type BandEstimates,
  type Estimate,
  estimateOfHalf,
  halfIntervalDb,
  interval95Db,
} from './measuring/estimate.ts'
export { type Arrivals, findArrivals } from './measuring/first-reflection.ts'
export {
  type BoxOrHall,
  boxOrHall,
  type CutResponse,
  cutBeforeReflection,
  type MeasuredLevels,
  measuredLevelsDb,
  noiseScatterDb,
  type PlaceResponse,
} from './measuring/impulse-cut.ts'
export { decayFromResponseS, type OctaveDecay, octaveDecays } from './measuring/impulse-decay.ts'
export { impulseLevelsDb, pinkMeanSquare } from './measuring/impulse-levels.ts'
export { type Fault, type FaultKind, leftOutBlocks, levelChangeDb } from './measuring/left-out.ts'
export {
  type ComparedBand,
  distanceStepDb,
  enteredLevels,
  levelDifference,
  type RangeDifference,
  rangeDifference,
} from './measuring/level-difference.ts'
export { LevelStream } from './measuring/level-stream.ts'
export { type MicrophoneResponse, microphoneUnreachedHz, readMicrophoneFile } from './measuring/microphone-file.ts'
export { dipRangeHz } from './measuring/narrow-dips.ts'
export {
  type MicrophoneOffsets,
  meterLevelsDb,
  microphoneOffsetDb,
  practiceMicrophone,
  recordedThrough,
} from './measuring/practice-recording.ts'
export { detailBands, recordingBands, recordingRateHz } from './measuring/recording-bands.ts'
export { RecordingError, type RecordingProblem } from './measuring/recording-problem.ts'
export type { ComparedGeometry, ExplainedDip, PlaceGeometry, ReflectionPath } from './measuring/reflection-paths.ts'
export {
  exponentialSweep,
  harmonicLeadS,
  type SweepSignalSpec,
  type SweepSpec,
  sweepFrequencyHz,
  sweepSignal,
  sweepSignalS,
  usualSweep,
} from './measuring/sweep.ts'
export type { SweepFinding } from './measuring/sweep-findings.ts'
export type { SweepPlaces, SweepRecording } from './measuring/sweep-response.ts'
export { type SweepPair, type SweepTake, sharedPlaces, sweepPair, sweepTake } from './measuring/sweep-take.ts'
export { type SweptLevels, sweptLevels } from './measuring/swept-levels.ts'
export { type BassCause, type Doubt, type Verdict, verdict } from './measuring/verdict.ts'
export type { WavLayout } from './measuring/wav-layout.ts'
export { type ByteSource, openWav, wavPieces } from './measuring/wav-stream.ts'
export { absorptionDbPerM } from './medium/absorption.ts'
export { type Air, makeAir } from './medium/air.ts'
export { flowResistivityPaSM2, groundAdmittance } from './medium/ground.ts'
export type { Point } from './point.ts'
export { baffledPistonDb } from './radiation/baffled-piston.ts'
export { beamwidthRad } from './radiation/beamwidth.ts'
export { boundaryElementCeilingHz } from './radiation/boundary-element-ceiling.ts'
export { type GroupOptions, solveCabinetGroup } from './radiation/box-group/cabinet-group.ts'
export { type GroupBox, leastGapM, narrowestGapM } from './radiation/box-group/group-geometry.ts'
export { boxMeshKey } from './radiation/box-surface/point-count.ts'
export { type BoxSize, type Cabinet, type CabinetModel, type Driver, netFlowShare } from './radiation/cabinet.ts'
export { type CrossoverSlope, crossoverResponse } from './radiation/crossover.ts'
export {
  type DirectionTable,
  directionFrequenciesHz,
  directionRadiation,
  directionTable,
} from './radiation/direction-table.ts'
export {
  type DriverLine,
  driverLine,
  equalGirthRadiusM,
  furtherBeamsRad,
  type LineRadiation,
} from './radiation/driver-line.ts'
export { packExpansionTables, unpackExpansionTables } from './radiation/expansion-file.ts'
export {
  type ExpansionLine,
  type ExpansionTable,
  expansionLine,
  tabulatedRadiation,
} from './radiation/expansion-table.ts'
export { onAxisFarField } from './radiation/far-field.ts'
export { highFrequencyLimitHz, highFrequencyPressures } from './radiation/high-frequency-radiation.ts'
export { hornControlHz } from './radiation/horn-control.ts'
export { hornMouthPattern } from './radiation/horn-mouth.ts'
export { isExpansionTable } from './radiation/is-expansion-table.ts'
export { monopole } from './radiation/monopole.ts'
export { expansionRadiusM } from './radiation/outgoing-expansion.ts'
export { portFlowRatio, usualPortQuality } from './radiation/port-flow.ts'
export { type PortPipe, portPipe } from './radiation/port-pipe.ts'
export type { Radiation } from './radiation/radiation.ts'
export { checkRearPort, holeOnFront, type RearPort } from './radiation/rear-port.ts'
export { addRearPort, portCeilingHz, rearPortFlow, withRearPort } from './radiation/rear-port-radiation.ts'
export {
  type SolvedCabinet,
  type SolveMethod,
  type SolveOptions,
  solveCabinet,
  solveDriverSets,
} from './radiation/solve-cabinet.ts'
export { sphereCabinet, sphereCabinetTrustedHz } from './radiation/sphere-cabinet.ts'
export { type SpherePistonShape, spherePiston } from './radiation/sphere-piston.ts'
export { summedRadiation } from './radiation/summed-radiation.ts'
export { uniformLineDb } from './radiation/uniform-line.ts'
export { wrapDropDb, wrapFrequencyHz, wrapRulesHz } from './radiation/wrap-frequency.ts'
export { type HalfSpectrum, realDft } from './signals/dft.ts'
export { filteredResponse } from './signals/filtered-response.ts'
export { impulseResponse } from './signals/impulse-response.ts'
export { interpolatedTransfer, transferKnotsHz } from './signals/interpolated-transfer.ts'
export { pinkNoise } from './signals/pink-noise.ts'
export { readWav, type WavRecording } from './signals/read-wav.ts'
export { seededRandom } from './signals/seeded-random.ts'
export { speechLike } from './signals/speech-like.ts'
export { thirdOctaveLevelsDb } from './signals/third-octave-levels.ts'
export { shapedToThirdOctaves } from './signals/third-octave-shaping.ts'
export { type WavKind, wavHeader, writeWav } from './signals/write-wav.ts'
