/** Finding the browser: where it is looked for, and what is said where there is none. */
import { describe, expect, it } from 'vitest';
import { chromiumPath } from '../support/chromium.ts';

describe('the browser for tests', () => {
  it('is taken from CHROMIUM_PATH first', () => {
    // Any program will do here: it is only looked at, not run.
    expect(chromiumPath({ CHROMIUM_PATH: process.execPath, PATH: '' })).toBe(process.execPath);
  });
  it('says what to do where there is none', () => {
    expect(() => chromiumPath({ PATH: '' })).toThrow(/install it .* or set CHROMIUM_PATH/);
  });
  it('says so where CHROMIUM_PATH is wrong', () => {
    expect(() => chromiumPath({ CHROMIUM_PATH: 'no-such-browser', PATH: '' })).toThrow(
      /CHROMIUM_PATH names no-such-browser/,
    );
  });
});
