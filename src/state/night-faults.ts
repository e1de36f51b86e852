// Why a night could not be read.
export type NightFault = 'not a night' | 'newer version' | 'too large';
