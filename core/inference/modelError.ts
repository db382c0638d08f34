/**
 * Error of the beam model itself in ln f, one standard deviation by mode number: taper and modulus that vary along
 * the stem, soil that follows no simple law (ours; from poles of the independent simulator). Shared by both planes.
 */
export const MODEL_LOG_SD: readonly number[] = [0.008, 0.008, 0.01, 0.015];
/** Planes of one pole differ by ovality and by the soil on their sides, in all their modes together (ours). */
export const PLANE_LOG_SD = 0.01;
/** What is left of one mode in one plane (ours). */
export const MODE_IN_PLANE_LOG_SD = 0.003;
