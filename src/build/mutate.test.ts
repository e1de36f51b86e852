// All tests of an area as one: see mutate.config.ts.
import 'virtual:named-tests';
