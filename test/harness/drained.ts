export { drained } from '../../server/src/core/terms/drained.ts';
