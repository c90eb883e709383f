/** Money is added up in whole cents, so that a column of prices gives its printed sum. */

/** Rounds an amount to cents; half a cent goes up. */
export const cents = (amount: number): number => Math.round(amount * 100 + 1e-7) / 100;

/** Adds amounts of which each is rounded to cents. */
export const addUp = (amounts: readonly number[]): number =>
  amounts.reduce((sum, amount) => sum + Math.round(amount * 100 + 1e-7), 0) / 100;
