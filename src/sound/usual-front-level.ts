/** Level in front unless the reader gives another, dB(A) re 20 µPa: a lively barn dance (our own choice). */
export const usualFrontLevelDbA = 80
