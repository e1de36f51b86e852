// Names of layers and grounds, apart from what the tables say of them: a study remembers its lesson by these.

export const layerIds = [
  'ground',
  'pillars',
  'frame',
  'stairs',
  'below',
  'above',
  'step',
  'fall',
  'anywhere',
  'pair',
  'around',
  'run',
  'elsewhere',
  'skips',
  'own',
] as const;
export type LayerId = (typeof layerIds)[number];

export const groundIds = [
  'anywhere',
  'first',
  'middle',
  'block',
  'string',
  'neck',
  'no half',
  'open',
] as const;
export type GroundId = (typeof groundIds)[number];
