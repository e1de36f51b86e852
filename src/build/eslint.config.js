import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import { fileURLToPath } from 'node:url';
import ts from 'typescript-eslint';

const root = fileURLToPath(new URL('../..', import.meta.url));

export default ts.config(
  { ignores: ['dist/**', 'node_modules/**'] },
  js.configs.recommended,
  ...ts.configs.strict,
  ...ts.configs.stylistic,
  ...svelte.configs.recommended,
  {
    languageOptions: { globals: { ...globals.browser, ...globals.node } },
    rules: {
      '@typescript-eslint/explicit-function-return-type': [
        'error',
        { allowExpressions: true, allowTypedFunctionExpressions: true },
      ],
      '@typescript-eslint/prefer-for-of': 'off',
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      // Typed-array kernels and checked indices read better with the assertion than with dead branches.
      '@typescript-eslint/no-non-null-assertion': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      eqeqeq: 'error',
      'no-console': 'error',
      'max-lines': ['error', { max: 350, skipBlankLines: true, skipComments: true }],
      // A switch counts once: a table of cases is no tangle.
      complexity: ['error', { max: 24, variant: 'modified' }],
      'max-params': ['error', 7],
    },
  },
  {
    // What only types can tell: promises that nobody waits for, cases left out, conditions that are always true.
    files: ['**/*.ts'],
    extends: ts.configs.recommendedTypeCheckedOnly,
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: root } },
    rules: {
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      // An entry taken with `!` loses null from its type as well as undefined: the rule would call needed checks needless.
      '@typescript-eslint/no-unnecessary-condition': 'off',
      // Interfaces here hold functions, which are passed on by name.
      '@typescript-eslint/unbound-method': 'off',
      // What is called through an interface that waits may have nothing to wait for.
      '@typescript-eslint/require-await': 'off',
    },
  },
  {
    // Declared for the pure core alone (tsconfig.core.json).
    files: ['src/build/core.d.ts'],
    extends: [ts.configs.disableTypeChecked],
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: { parserOptions: { parser: ts.parser } },
    rules: { 'no-undef': 'off' },
  },
  {
    files: ['src/cli/**', 'src/build/**', 'tests/**'],
    rules: { 'no-console': 'off', '@typescript-eslint/explicit-function-return-type': 'off' },
  },
  {
    // Kernels over typed arrays: bounds and tables go in one by one, since an object a call costs more than the sum.
    files: ['src/pipeline/4-solver/**/*.ts'],
    rules: { 'max-params': 'off' },
  },
  {
    // Tests read what other programs wrote, which has no types.
    files: ['tests/**/*.ts'],
    rules: {
      complexity: 'off',
      'max-params': 'off',
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
);
