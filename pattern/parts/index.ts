export { type JointAt, JointFault, joinPieces, type PartShape, SAME_LENGTH_MM } from './joinPieces.ts';
export { type JointLine, jointLines, putTogether, rejoined, takenApart } from './madeOf.ts';
export { type JointState, jointStates, openJointNotices, stateInWords } from './openJoints.ts';
export { lengthAlong, sideNear, sidesOf, stretchPoints } from './stretch.ts';
