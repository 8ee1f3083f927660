/** Where a hand wants a piece, from where it lies now. */
export interface DragWish {
  /** In mm on the cloth. */
  readonly dx: number;
  readonly dy: number;
  /** Degrees, counter-clockwise. */
  readonly turn: number;
  /** So many mm on the cloth are a few pixels: within that a piece is caught. */
  readonly near: number;
  /** Held freely: it catches on nothing. */
  readonly isFreely: boolean;
  /** Turned finely: between the usual angles, where the cloth allows it. */
  readonly isFinely: boolean;
}

/** The part of a pointer's event that counts. */
export type Pointer = Pick<PointerEvent, 'pointerId' | 'pointerType' | 'clientX' | 'clientY' | 'altKey'>;

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A press that moves farther than this, in pixels, is a drag. */
const DRAG_PX = 4;
/** A piece catches on what is within so many pixels; under a finger on more. */
const CATCH_PX = 9;
const CATCH_TOUCH_PX = 16;

/**
 * One piece in hand, from the press to the release: moved by a pointer or turned by its handle, and turned by a second
 * finger while the first holds it. Knows pixels and angles on the screen, not cloth.
 */
export class HandDrag {
  readonly pointerId: number;
  readonly #start: Point;
  /** Middle of the piece on the screen, where it is held by its handle. */
  readonly #pivot: Point | null;
  readonly #catchPx: number;
  #at: Point;
  #isAlt: boolean;
  #second: { readonly pointerId: number; at: Point } | null = null;
  /** Degrees, up to the turn that is going on now … */
  #turned = 0;
  /** … which began with the hand at this angle. */
  #fromAngle: number;
  #hasTwisted = false;
  #isMoving = false;

  constructor(press: Pointer, pivot: Point | null) {
    this.pointerId = press.pointerId;
    this.#start = pointOf(press);
    this.#at = this.#start;
    this.#pivot = pivot;
    this.#isAlt = press.altKey;
    this.#catchPx = press.pointerType === 'touch' ? CATCH_TOUCH_PX : CATCH_PX;
    this.#fromAngle = pivot ? angle(pivot, this.#start) : 0;
  }

  /** Whether the press has become a drag. */
  get isMoving(): boolean {
    return this.#isMoving;
  }

  /** A finger beside the one that holds the piece. @returns whether the two turn it from now on */
  takeSecond(press: Pointer): boolean {
    const isOther = press.pointerId !== this.pointerId && press.pointerType === 'touch';
    if (!isOther || this.#second || this.#pivot) return false;
    this.#second = { pointerId: press.pointerId, at: pointOf(press) };
    this.#fromAngle = angle(this.#at, this.#second.at);
    return true;
  }

  /** @returns whether the piece is wanted elsewhere now */
  follow(event: Pointer): boolean {
    if (event.pointerId === this.#second?.pointerId) this.#second.at = pointOf(event);
    else if (event.pointerId === this.pointerId) this.#at = pointOf(event);
    else return false;
    this.#isAlt = event.altKey;
    this.#hasTwisted ||= this.#second !== null;
    this.#isMoving ||=
      this.#second !== null || Math.hypot(this.#at.x - this.#start.x, this.#at.y - this.#start.y) >= DRAG_PX;
    return this.#isMoving;
  }

  /** The second finger is lifted: one is enough to go on, and what was turned stays so. */
  letGoSecond(pointerId: number): boolean {
    if (this.#second?.pointerId !== pointerId) return false;
    this.#turned = this.#turn();
    this.#second = null;
    return true;
  }

  /** @param mmPerPixel mm on the cloth under a pixel of the screen */
  wish(mmPerPixel: number): DragWish {
    const isHeld = this.#pivot === null;
    return {
      dx: isHeld ? (this.#at.x - this.#start.x) * mmPerPixel : 0,
      dy: isHeld ? (this.#start.y - this.#at.y) * mmPerPixel : 0,
      turn: this.#turn(),
      near: this.#catchPx * mmPerPixel,
      isFreely: this.#isAlt || !isHeld,
      isFinely: this.#isAlt || this.#hasTwisted,
    };
  }

  #turn(): number {
    if (this.#second) return this.#turned + angle(this.#at, this.#second.at) - this.#fromAngle;
    if (this.#pivot) return angle(this.#pivot, this.#at) - this.#fromAngle;
    return this.#turned;
  }
}

const pointOf = ({ clientX, clientY }: Pointer): Point => ({ x: clientX, y: clientY });

/** Direction from one point on the screen to another, in degrees counter-clockwise. */
function angle(from: Point, to: Point): number {
  return (-Math.atan2(to.y - from.y, to.x - from.x) * 180) / Math.PI;
}
