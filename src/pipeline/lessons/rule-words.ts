// The rules of a layer in words, as a conflict names them.
import { deviceOf } from '../5-line';
import { listedBy } from '../problem/listed';
import { ruleIn, type Layer } from './layers';
import type { RuleKind } from './plan';

const nth = (every: number): string =>
  every === 1 ? 'every' : every === 2 ? 'every second' : `every ${every}th`;

function saidOf(layer: Layer, kind: RuleKind): string {
  const rule = ruleIn(layer, kind);
  switch (rule?.rule) {
    case 'opens':
      return `the ${listedBy(rule.on, 'or')} opens ${nth(rule.every)} chord`;
    case 'inner':
      return `the ${listedBy(rule.on, 'or')} on inner strong beats`;
    case 'speaks':
      return `the ${listedBy(rule.on, 'or')} in every chord of ${rule.least} notes or more`;
    case 'into': {
      const names = [...new Set(rule.by.flat().map((device) => deviceOf(device).name))];
      return `${listedBy(names, 'or')} into ${nth(rule.every)} new chord`;
    }
    case 'notes':
      return rule.are === 'inside' ? 'nothing outside chord and scale' : `nothing but the notes: ${rule.are}`;
    case 'roots':
      return 'the root only where its chord opens';
    case 'steps':
      return 'steps within the bar';
    case 'differ':
      return 'never twice in a row the same way in';
    case 'skips':
    case undefined:
      return 'figures between the beats';
  }
}

/** "Lean below: semitone below into every new chord". */
export const ruleWords = (layer: Layer, kind: RuleKind): string => `${layer.name}: ${saidOf(layer, kind)}`;
