// What is said about where the computed sounds come from.
export const soundWords = {
  title: 'Figures of the computed bass and the room',
  licence:
    'The recordings that figures were measured on are dedicated to the public domain (CC0 1.0). No recording is in this program’s computed bass.',
  upright: 'Upright bass',
  electric: 'Electric bass',
  touches: 'Ways to touch a string',
  space: 'Places and room',
} as const;
