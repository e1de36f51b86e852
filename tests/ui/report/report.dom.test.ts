import { cleanup, render, screen, within } from '@testing-library/svelte';
import { afterEach, describe, expect, it } from 'vitest';
import { positionName } from '../../../src/instrument';
import { bpm } from '../../../src/music';
import type { HandReport as Report } from '../../../src/pipeline/5-line';
import { HandReport } from '../../../src/ui/report';
import { handReport, madeLine, madeTimeline } from '../fingerboard/made-line';

afterEach(cleanup);

const show = (report: Report = handReport, isCalibrated = false): HTMLElement =>
  render(HandReport, {
    line: { ...madeLine, report },
    timeline: madeTimeline,
    tempo: bpm(120),
    positionName,
    isCalibrated,
  }).container;

const cells = (row: HTMLElement): string[] =>
  [...row.children].map((cell) => cell.textContent?.replaceAll(/\s+/g, ' ').trim() ?? '');

describe('the hand report', () => {
  it('gives every region in words, percent, beats a chorus and minutes an hour', () => {
    show();
    const table = screen.getByRole('table', { name: 'Where the hand is' });
    const rows = within(table).getAllByRole('row').slice(1).map(cells);
    expect(rows).toEqual([
      ['low', '', '6 %', '1', '4'],
      ['middle', '', '31 %', '5', '19'],
      ['neck block', '', '38 %', '6', '23'],
      ['octave, thumb', '', '6 %', '1', '4'],
      ['open, hand free', '', '19 %', '3', '11'],
    ]);
  });

  it('counts every kind of move by the chorus and by the hour', () => {
    show();
    const rows = within(screen.getByRole('table', { name: 'How it moves' }))
      .getAllByRole('row')
      .slice(1);
    expect(rows.map((row) => cells(row).slice(1))).toEqual([
      ['2', '900'],
      ['4', '1800'],
      ['5', '2250'],
      ['7', '3150'],
      ['8', '3600'],
      ['9', '4050'],
      ['10', '4500'],
    ]);
  });

  it('tells the longest stay and the hardest move in words, a downward move too', () => {
    show();
    expect(screen.getByText('6 beats at the neck block, from bar 2')).toBeTruthy();
    expect(screen.getByText(/^bar 2, beat 2: 4 semitones, thumb 11 to V½, 130 mm; brisk$/)).toBeTruthy();
    show(handReport, true);
    expect(screen.getByText(/130 mm; about 0.18 s, so the note before ends 0.03 s early$/)).toBeTruthy();
  });

  it('tells the ways under both kinds of shift, the arm and the holds', () => {
    show();
    expect(screen.getByText('1.24 m in all, 620 mm a shift, 900 at most')).toBeTruthy();
    expect(screen.getByText('0 mm')).toBeTruthy();
    expect(screen.getByText('arm behind the neck 50 %, arm over the shoulder 50 %')).toBeTruthy();
    expect(screen.getByText('3 relaxed, 2 comfortable, 7 stretched')).toBeTruthy();
  });

  it('says so when the hand never moves or never stops a string', () => {
    show({ ...handReport, longestStay: null, hardestMove: null });
    expect(screen.getByText('no stopped note')).toBeTruthy();
    expect(screen.getByText('the hand does not move')).toBeTruthy();
  });

  it('shows the cautions beside the figures, not folded away, and with no figures too', () => {
    for (const report of [handReport, { ...handReport, beats: 0 }]) {
      show(report);
      const cautions = screen.getByRole('complementary', { name: 'What this is, and is not' });
      expect(cautions.closest('details')).toBeNull();
      for (const word of [
        /not an estimate of injury risk/,
        /variety is not shown to protect/,
        /Stop when something hurts/,
        /Pain, numbness, tingling or weakness that lasts or returns is for a clinician/,
        /posture and fingering are for a teacher/,
        /5 minutes after 25.*expert opinion/,
      ]) {
        expect(cautions.textContent).toMatch(word);
      }
      cleanup();
    }
  });
});
