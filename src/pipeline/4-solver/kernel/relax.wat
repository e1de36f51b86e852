;; The inner loops of the messages, four costs or two weights at a time (WebAssembly 2.0, fixed-width SIMD). What they work
;; out, and why it may be worked out in this order, stands in forward-messages.ts, backward-messages.ts, filtering.ts and
;; look-ahead-entropy.ts; kernel.ts lays the arrays out and calls.
;;
;; Rows are read and written past the end of a pitch's placements, up to a whole number of vectors. There the moves are blocked
;; (weights: 0), so that the columns of the next pitch, or the room behind the last row, keep what they hold.
(module
  (memory (export "memory") 1)

  ;; The slot that a step starts from: messages, columns, rows; and the message that it makes.
  (global $sums (mut i32) (i32.const 0))
  (global $width (mut i32) (i32.const 0))
  (global $rows (mut i32) (i32.const 0))
  (global $result (mut i32) (i32.const 0))
  (global $outWidth (mut i32) (i32.const 0))
  (global $outRows (mut i32) (i32.const 0))
  ;; Gathered rows, the memory state of each, the row of each memory state (-1: none), and the open memory states.
  (global $ways (mut i32) (i32.const 0))
  (global $states (mut i32) (i32.const 0))
  (global $rowOf (mut i32) (i32.const 0))
  (global $open (mut i32) (i32.const 0))
  ;; The second sum of the look ahead: as $sums, $result and $ways, laid out alike.
  (global $worth (mut i32) (i32.const 0))
  (global $worthResult (mut i32) (i32.const 0))
  (global $worthWays (mut i32) (i32.const 0))
  ;; lattice.ts
  (global $infinite i32 (i32.const 500000000))
  (global $barrier i32 (i32.const 250000000))

  (func (export "workspace") (param $ways i32) (param $states i32) (param $rowOf i32) (param $open i32)
    (global.set $ways (local.get $ways))
    (global.set $states (local.get $states))
    (global.set $rowOf (local.get $rowOf))
    (global.set $open (local.get $open)))

  (func (export "worthWorkspace") (param $worth i32) (param $result i32) (param $ways i32)
    (global.set $worth (local.get $worth))
    (global.set $worthResult (local.get $result))
    (global.set $worthWays (local.get $ways)))

  (func (export "step") (param $sums i32) (param $width i32) (param $rows i32)
                        (param $result i32) (param $outWidth i32) (param $outRows i32)
    (global.set $sums (local.get $sums))
    (global.set $width (local.get $width))
    (global.set $rows (local.get $rows))
    (global.set $result (local.get $result))
    (global.set $outWidth (local.get $outWidth))
    (global.set $outRows (local.get $outRows)))

  ;; Memory states with an open sum among `size` placements from `first`, listed; returns how many.
  (func (export "openLeast") (param $first i32) (param $size i32) (result i32)
    (local $g i32) (local $at i32) (local $end i32) (local $count i32)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $g) (global.get $rows)))
        (local.set $at (i32.add (global.get $sums)
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $width)) (local.get $first)) (i32.const 2))))
        (local.set $end (i32.add (local.get $at) (i32.shl (local.get $size) (i32.const 2))))
        (block $closed
          (loop $placements
            (br_if $closed (i32.ge_u (local.get $at) (local.get $end)))
            (if (i32.lt_s (i32.load (local.get $at)) (global.get $barrier))
              (then
                (i32.store (i32.add (global.get $open) (i32.shl (local.get $count) (i32.const 2))) (local.get $g))
                (local.set $count (i32.add (local.get $count) (i32.const 1)))
                (br $closed)))
            (local.set $at (i32.add (local.get $at) (i32.const 4)))
            (br $placements)))
        (local.set $g (i32.add (local.get $g) (i32.const 1)))
        (br $states)))
    (local.get $count))

  ;; As openLeast, for weights above 0.
  (func (export "openWeights") (param $first i32) (param $size i32) (result i32)
    (local $g i32) (local $at i32) (local $end i32) (local $count i32)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $g) (global.get $rows)))
        (local.set $at (i32.add (global.get $sums)
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $width)) (local.get $first)) (i32.const 3))))
        (local.set $end (i32.add (local.get $at) (i32.shl (local.get $size) (i32.const 3))))
        (block $closed
          (loop $placements
            (br_if $closed (i32.ge_u (local.get $at) (local.get $end)))
            (if (f64.gt (f64.load (local.get $at)) (f64.const 0))
              (then
                (i32.store (i32.add (global.get $open) (i32.shl (local.get $count) (i32.const 2))) (local.get $g))
                (local.set $count (i32.add (local.get $count) (i32.const 1)))
                (br $closed)))
            (local.set $at (i32.add (local.get $at) (i32.const 8)))
            (br $placements)))
        (local.set $g (i32.add (local.get $g) (i32.const 1)))
        (br $states)))
    (local.get $count))

  ;; Takes the rows' numbers off their memory states again.
  (func $forget (param $count i32)
    (local $row i32)
    (block $done
      (loop $rows
        (br_if $done (i32.ge_u (local.get $row) (local.get $count)))
        (i32.store
          (i32.add (global.get $rowOf)
            (i32.shl (i32.load (i32.add (global.get $states) (i32.shl (local.get $row) (i32.const 2)))) (i32.const 2)))
          (i32.const -1))
        (local.set $row (i32.add (local.get $row) (i32.const 1)))
        (br $rows))))

  ;; G(q, h) = min over g with next(g) = q of F(g, h) + S(g), over the open states; returns how many q. Rows are `bytes` long.
  (func $gatherLeast (param $first i32) (param $bytes i32) (param $opened i32) (param $next i32) (param $costs i32)
                     (result i32)
    (local $index i32) (local $g i32) (local $cost i32) (local $q i32) (local $row i32) (local $count i32)
    (local $from i32) (local $out i32) (local $end i32) (local $shift v128)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $index) (local.get $opened)))
        (local.set $g (i32.load (i32.add (global.get $open) (i32.shl (local.get $index) (i32.const 2)))))
        (local.set $index (i32.add (local.get $index) (i32.const 1)))
        (local.set $cost (i32.load (i32.add (local.get $costs) (i32.shl (local.get $g) (i32.const 2)))))
        (br_if $states (i32.ge_s (local.get $cost) (global.get $barrier)))
        (local.set $q (i32.load16_u (i32.add (local.get $next) (i32.shl (local.get $g) (i32.const 1)))))
        (br_if $states (i32.ge_u (local.get $q) (global.get $outRows)))
        (local.set $shift (i32x4.splat (local.get $cost)))
        (local.set $from (i32.add (global.get $sums)
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $width)) (local.get $first)) (i32.const 2))))
        (local.set $end (i32.add (local.get $from) (local.get $bytes)))
        (local.set $row (i32.load (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2)))))
        (if (i32.lt_s (local.get $row) (i32.const 0))
          (then
            (i32.store (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2))) (local.get $count))
            (i32.store (i32.add (global.get $states) (i32.shl (local.get $count) (i32.const 2))) (local.get $q))
            (local.set $out (i32.add (global.get $ways) (i32.mul (local.get $count) (local.get $bytes))))
            (local.set $count (i32.add (local.get $count) (i32.const 1)))
            (loop $vectors
              (v128.store (local.get $out) (i32x4.add (v128.load (local.get $from)) (local.get $shift)))
              (local.set $out (i32.add (local.get $out) (i32.const 16)))
              (local.set $from (i32.add (local.get $from) (i32.const 16)))
              (br_if $vectors (i32.lt_u (local.get $from) (local.get $end)))))
          (else
            (local.set $out (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $bytes))))
            (loop $vectors
              (v128.store (local.get $out)
                (i32x4.min_s (v128.load (local.get $out))
                             (i32x4.add (v128.load (local.get $from)) (local.get $shift))))
              (local.set $out (i32.add (local.get $out) (i32.const 16)))
              (local.set $from (i32.add (local.get $from) (i32.const 16)))
              (br_if $vectors (i32.lt_u (local.get $from) (local.get $end))))))
        (br $states)))
    (local.get $count))

  ;; Lowers the sums of the placements of pitch n, which begin at column `start`, by the ways from pitch b under one rule.
  ;; block: for each placement of b `bytes` of moves to the placements of n.
  (func (export "relaxLeast") (param $first i32) (param $size i32) (param $wayBytes i32) (param $opened i32)
                              (param $next i32) (param $costs i32) (param $pair i32)
                              (param $block i32) (param $bytes i32) (param $start i32)
    (local $count i32) (local $row i32) (local $out i32) (local $way i32) (local $lastWay i32)
    (local $j i32) (local $move i32) (local $least v128) (local $second v128) (local $sum v128)
    (local.set $count
      (call $gatherLeast (local.get $first) (local.get $wayBytes) (local.get $opened) (local.get $next) (local.get $costs)))
    (block $done
      (loop $rows
        (br_if $done (i32.ge_u (local.get $row) (local.get $count)))
        (local.set $out (i32.add (global.get $result) (i32.shl
          (i32.add
            (i32.mul
              (i32.load (i32.add (global.get $states) (i32.shl (local.get $row) (i32.const 2))))
              (global.get $outWidth))
            (local.get $start))
          (i32.const 2))))
        (local.set $j (i32.const 0))
        (loop $columns
          (local.set $least (v128.load (local.get $out)))
          (local.set $second (v128.load offset=16 (local.get $out)))
          (local.set $way (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes))))
          (local.set $lastWay (i32.add (local.get $way) (i32.shl (local.get $size) (i32.const 2))))
          (local.set $move (i32.add (local.get $block) (local.get $j)))
          (loop $placements
            (local.set $sum (i32x4.splat (i32.add (i32.load (local.get $way)) (local.get $pair))))
            (local.set $least
              (i32x4.min_s (local.get $least) (i32x4.add (local.get $sum) (v128.load (local.get $move)))))
            (local.set $second
              (i32x4.min_s (local.get $second) (i32x4.add (local.get $sum) (v128.load offset=16 (local.get $move)))))
            (local.set $way (i32.add (local.get $way) (i32.const 4)))
            (local.set $move (i32.add (local.get $move) (local.get $bytes)))
            (br_if $placements (i32.lt_u (local.get $way) (local.get $lastWay))))
          (v128.store (local.get $out) (local.get $least))
          (v128.store offset=16 (local.get $out) (local.get $second))
          (local.set $out (i32.add (local.get $out) (i32.const 32)))
          (local.set $j (i32.add (local.get $j) (i32.const 32)))
          (br_if $columns (i32.lt_u (local.get $j) (local.get $bytes))))
        (local.set $row (i32.add (local.get $row) (i32.const 1)))
        (br $rows)))
    (call $forget (local.get $count)))

  ;; The weight of ways in place of their least cost: rows e(q, h), then sums over h. The order of the sums is that of
  ;; filtering.ts, column by column, so that both round alike.
  (func $gatherWeights (param $first i32) (param $bytes i32) (param $opened i32) (param $next i32) (param $weights i32)
                       (result i32)
    (local $index i32) (local $g i32) (local $weight f64) (local $q i32) (local $row i32) (local $count i32)
    (local $from i32) (local $out i32) (local $end i32) (local $factor v128)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $index) (local.get $opened)))
        (local.set $g (i32.load (i32.add (global.get $open) (i32.shl (local.get $index) (i32.const 2)))))
        (local.set $index (i32.add (local.get $index) (i32.const 1)))
        (local.set $weight (f64.load (i32.add (local.get $weights) (i32.shl (local.get $g) (i32.const 3)))))
        (br_if $states (f64.eq (local.get $weight) (f64.const 0)))
        (local.set $q (i32.load16_u (i32.add (local.get $next) (i32.shl (local.get $g) (i32.const 1)))))
        (br_if $states (i32.ge_u (local.get $q) (global.get $outRows)))
        (local.set $factor (f64x2.splat (local.get $weight)))
        (local.set $from (i32.add (global.get $sums)
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $width)) (local.get $first)) (i32.const 3))))
        (local.set $end (i32.add (local.get $from) (local.get $bytes)))
        (local.set $row (i32.load (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2)))))
        (if (i32.lt_s (local.get $row) (i32.const 0))
          (then
            (i32.store (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2))) (local.get $count))
            (i32.store (i32.add (global.get $states) (i32.shl (local.get $count) (i32.const 2))) (local.get $q))
            (local.set $out (i32.add (global.get $ways) (i32.mul (local.get $count) (local.get $bytes))))
            (local.set $count (i32.add (local.get $count) (i32.const 1)))
            (loop $vectors
              (v128.store (local.get $out) (f64x2.mul (local.get $factor) (v128.load (local.get $from))))
              (local.set $out (i32.add (local.get $out) (i32.const 16)))
              (local.set $from (i32.add (local.get $from) (i32.const 16)))
              (br_if $vectors (i32.lt_u (local.get $from) (local.get $end)))))
          (else
            (local.set $out (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $bytes))))
            (loop $vectors
              (v128.store (local.get $out)
                (f64x2.add (v128.load (local.get $out))
                           (f64x2.mul (local.get $factor) (v128.load (local.get $from)))))
              (local.set $out (i32.add (local.get $out) (i32.const 16)))
              (local.set $from (i32.add (local.get $from) (i32.const 16)))
              (br_if $vectors (i32.lt_u (local.get $from) (local.get $end))))))
        (br $states)))
    (local.get $count))

  (func (export "addWeights") (param $first i32) (param $size i32) (param $wayBytes i32) (param $opened i32)
                              (param $next i32) (param $weights i32) (param $pair f64)
                              (param $block i32) (param $bytes i32) (param $start i32)
    (local $count i32) (local $row i32) (local $out i32) (local $way i32) (local $lastWay i32)
    (local $j i32) (local $move i32) (local $a v128) (local $b v128) (local $c v128) (local $d v128) (local $w v128)
    (local.set $count
      (call $gatherWeights (local.get $first) (local.get $wayBytes) (local.get $opened) (local.get $next)
                           (local.get $weights)))
    (block $done
      (loop $rows
        (br_if $done (i32.ge_u (local.get $row) (local.get $count)))
        (local.set $out (i32.add (global.get $result) (i32.shl
          (i32.add
            (i32.mul
              (i32.load (i32.add (global.get $states) (i32.shl (local.get $row) (i32.const 2))))
              (global.get $outWidth))
            (local.get $start))
          (i32.const 3))))
        (local.set $j (i32.const 0))
        (loop $columns
          (local.set $a (v128.load (local.get $out)))
          (local.set $b (v128.load offset=16 (local.get $out)))
          (local.set $c (v128.load offset=32 (local.get $out)))
          (local.set $d (v128.load offset=48 (local.get $out)))
          (local.set $way (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes))))
          (local.set $lastWay (i32.add (local.get $way) (i32.shl (local.get $size) (i32.const 3))))
          (local.set $move (i32.add (local.get $block) (local.get $j)))
          (loop $placements
            (local.set $w (f64x2.splat (f64.mul (local.get $pair) (f64.load (local.get $way)))))
            (local.set $a (f64x2.add (local.get $a) (f64x2.mul (local.get $w) (v128.load (local.get $move)))))
            (local.set $b (f64x2.add (local.get $b) (f64x2.mul (local.get $w) (v128.load offset=16 (local.get $move)))))
            (local.set $c (f64x2.add (local.get $c) (f64x2.mul (local.get $w) (v128.load offset=32 (local.get $move)))))
            (local.set $d (f64x2.add (local.get $d) (f64x2.mul (local.get $w) (v128.load offset=48 (local.get $move)))))
            (local.set $way (i32.add (local.get $way) (i32.const 8)))
            (local.set $move (i32.add (local.get $move) (local.get $bytes)))
            (br_if $placements (i32.lt_u (local.get $way) (local.get $lastWay))))
          (v128.store (local.get $out) (local.get $a))
          (v128.store offset=16 (local.get $out) (local.get $b))
          (v128.store offset=32 (local.get $out) (local.get $c))
          (v128.store offset=48 (local.get $out) (local.get $d))
          (local.set $out (i32.add (local.get $out) (i32.const 64)))
          (local.set $j (i32.add (local.get $j) (i32.const 64)))
          (br_if $columns (i32.lt_u (local.get $j) (local.get $bytes))))
        (local.set $row (i32.add (local.get $row) (i32.const 1)))
        (br $rows)))
    (call $forget (local.get $count)))

  ;; K(q, h) = min over h' with pitch n of V(h, h') + ahead(q, h'), for the h of pitch b, written to `out`.
  (func $lookAhead (param $q i32) (param $out i32) (param $wayBytes i32) (param $size i32)
                   (param $block i32) (param $bytes i32) (param $start i32)
    (local $ahead i32) (local $k i32) (local $j i32) (local $move i32) (local $least v128) (local $blocked v128)
    (local.set $ahead (i32.add (global.get $sums)
      (i32.shl (i32.add (i32.mul (local.get $q) (global.get $width)) (local.get $start)) (i32.const 2))))
    (local.set $blocked (i32x4.splat (global.get $infinite)))
    (loop $pad
      (v128.store (i32.add (local.get $out) (local.get $j)) (local.get $blocked))
      (local.set $j (i32.add (local.get $j) (i32.const 16)))
      (br_if $pad (i32.lt_u (local.get $j) (local.get $wayBytes))))
    (loop $placements
      (local.set $least (local.get $blocked))
      (local.set $move (i32.add (local.get $block) (i32.mul (local.get $k) (local.get $bytes))))
      (local.set $j (i32.const 0))
      (loop $columns
        (local.set $least (i32x4.min_s (local.get $least)
          (i32x4.add (v128.load (i32.add (local.get $move) (local.get $j)))
                     (v128.load (i32.add (local.get $ahead) (local.get $j))))))
        (local.set $j (i32.add (local.get $j) (i32.const 16)))
        (br_if $columns (i32.lt_u (local.get $j) (local.get $bytes))))
      (local.set $least (i32x4.min_s (local.get $least)
        (i8x16.shuffle 8 9 10 11 12 13 14 15 0 1 2 3 4 5 6 7 (local.get $least) (local.get $least))))
      (local.set $least (i32x4.min_s (local.get $least)
        (i8x16.shuffle 4 5 6 7 0 1 2 3 12 13 14 15 8 9 10 11 (local.get $least) (local.get $least))))
      (i32.store (i32.add (local.get $out) (i32.shl (local.get $k) (i32.const 2))) (i32x4.extract_lane 0 (local.get $least)))
      (local.set $k (i32.add (local.get $k) (i32.const 1)))
      (br_if $placements (i32.lt_u (local.get $k) (local.get $size)))))

  ;; Lowers W at the placements of pitch b by the ways on through pitch n under one rule. Here `sums` are those ahead, of the
  ;; later slot, and `result` those of the earlier one.
  (func (export "relaxBack") (param $first i32) (param $size i32) (param $wayBytes i32)
                             (param $next i32) (param $costs i32) (param $pair i32)
                             (param $block i32) (param $bytes i32) (param $start i32)
    (local $g i32) (local $q i32) (local $cost i32) (local $row i32) (local $count i32)
    (local $way i32) (local $out i32) (local $end i32) (local $shift v128)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $g) (global.get $outRows)))
        (local.set $cost (i32.load (i32.add (local.get $costs) (i32.shl (local.get $g) (i32.const 2)))))
        (local.set $q (i32.load16_u (i32.add (local.get $next) (i32.shl (local.get $g) (i32.const 1)))))
        (local.set $out (i32.add (global.get $result)
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $outWidth)) (local.get $first)) (i32.const 2))))
        (local.set $g (i32.add (local.get $g) (i32.const 1)))
        (br_if $states (i32.ge_s (local.get $cost) (global.get $barrier)))
        (br_if $states (i32.ge_u (local.get $q) (global.get $rows)))
        (local.set $row (i32.load (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2)))))
        (if (i32.lt_s (local.get $row) (i32.const 0))
          (then
            (local.set $row (local.get $count))
            (i32.store (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2))) (local.get $row))
            (i32.store (i32.add (global.get $states) (i32.shl (local.get $row) (i32.const 2))) (local.get $q))
            (local.set $count (i32.add (local.get $count) (i32.const 1)))
            (call $lookAhead (local.get $q)
              (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes)))
              (local.get $wayBytes) (local.get $size)
              (local.get $block) (local.get $bytes) (local.get $start))))
        (local.set $way (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes))))
        (local.set $end (i32.add (local.get $way) (local.get $wayBytes)))
        (local.set $shift (i32x4.splat (i32.add (local.get $cost) (local.get $pair))))
        (loop $vectors
          (v128.store (local.get $out)
            (i32x4.min_s (v128.load (local.get $out)) (i32x4.add (v128.load (local.get $way)) (local.get $shift))))
          (local.set $out (i32.add (local.get $out) (i32.const 16)))
          (local.set $way (i32.add (local.get $way) (i32.const 16)))
          (br_if $vectors (i32.lt_u (local.get $way) (local.get $end))))
        (br $states)))
    (call $forget (local.get $count)))

  ;; Adds what each placement costs by itself to the sums that are not blocked; blocked ones are made the same.
  (func (export "addUnary") (param $at i32) (param $width i32) (param $rows i32) (param $unary i32)
    (local $end i32) (local $rowEnd i32) (local $cost i32) (local $sum i32)
    (local.set $end (i32.add (local.get $at) (i32.shl (i32.mul (local.get $width) (local.get $rows)) (i32.const 2))))
    (block $done
      (loop $eachRow
        (br_if $done (i32.ge_u (local.get $at) (local.get $end)))
        (local.set $rowEnd (i32.add (local.get $at) (i32.shl (local.get $width) (i32.const 2))))
        (local.set $cost (local.get $unary))
        (loop $columns
          (local.set $sum (i32.load (local.get $at)))
          (local.set $sum (i32.add (local.get $sum) (i32.load (local.get $cost))))
          (i32.store (local.get $at)
            (select (local.get $sum) (global.get $infinite)
              (i32.and (i32.lt_s (i32.load (local.get $at)) (global.get $barrier))
                       (i32.lt_s (local.get $sum) (global.get $barrier)))))
          (local.set $at (i32.add (local.get $at) (i32.const 4)))
          (local.set $cost (i32.add (local.get $cost) (i32.const 4)))
          (br_if $columns (i32.lt_u (local.get $at) (local.get $rowEnd))))
        (br $eachRow))))

  ;; Takes the least entry off `count` sums; blocked ones are made the same.
  (func (export "level") (param $at i32) (param $count i32)
    (local $p i32) (local $end i32) (local $least i32) (local $sum i32)
    (local.set $least (global.get $barrier))
    (local.set $p (local.get $at))
    (local.set $end (i32.add (local.get $at) (i32.shl (local.get $count) (i32.const 2))))
    (loop $entries
      (local.set $sum (i32.load (local.get $p)))
      (local.set $least (select (local.get $sum) (local.get $least) (i32.lt_s (local.get $sum) (local.get $least))))
      (local.set $p (i32.add (local.get $p) (i32.const 4)))
      (br_if $entries (i32.lt_u (local.get $p) (local.get $end))))
    (local.set $p (local.get $at))
    (loop $entries
      (v128.store (local.get $p)
        (v128.bitselect
          (i32x4.sub (v128.load (local.get $p)) (i32x4.splat (local.get $least)))
          (i32x4.splat (global.get $infinite))
          (i32x4.lt_s (v128.load (local.get $p)) (i32x4.splat (global.get $barrier)))))
      (local.set $p (i32.add (local.get $p) (i32.const 16)))
      (br_if $entries (i32.lt_u (local.get $p) (local.get $end)))))

  ;; Multiplies by the weight of each placement by itself, scales the largest entry to 1 and rounds to 26 bits (filtering.ts).
  (func (export "settleWeights") (param $at i32) (param $width i32) (param $rows i32) (param $unary i32)
    (local $p i32) (local $end i32) (local $rowEnd i32) (local $weight i32) (local $value f64) (local $largest f64)
    (local $scale v128) (local $v v128) (local $product v128)
    (local.set $p (local.get $at))
    (local.set $end (i32.add (local.get $at) (i32.shl (i32.mul (local.get $width) (local.get $rows)) (i32.const 3))))
    (loop $eachRow
      (local.set $rowEnd (i32.add (local.get $p) (i32.shl (local.get $width) (i32.const 3))))
      (local.set $weight (local.get $unary))
      (loop $columns
        (local.set $value (f64.mul (f64.load (local.get $p)) (f64.load (local.get $weight))))
        (f64.store (local.get $p) (local.get $value))
        (local.set $largest (f64.max (local.get $largest) (local.get $value)))
        (local.set $p (i32.add (local.get $p) (i32.const 8)))
        (local.set $weight (i32.add (local.get $weight) (i32.const 8)))
        (br_if $columns (i32.lt_u (local.get $p) (local.get $rowEnd))))
      (br_if $eachRow (i32.lt_u (local.get $p) (local.get $end))))
    (local.set $scale (f64x2.splat
      (if (result f64) (f64.eq (local.get $largest) (f64.const 0))
        (then (f64.const 0))
        (else (f64.div (f64.const 1) (local.get $largest))))))
    (local.set $p (local.get $at))
    (loop $entries
      (local.set $v (f64x2.mul (local.get $scale) (v128.load (local.get $p))))
      (local.set $product (f64x2.mul (f64x2.splat (f64.const 134217729)) (local.get $v)))
      (v128.store (local.get $p)
        (f64x2.sub (local.get $product) (f64x2.sub (local.get $product) (local.get $v))))
      (local.set $p (i32.add (local.get $p) (i32.const 16)))
      (br_if $entries (i32.lt_u (local.get $p) (local.get $end)))))

  ;; As lookAhead, in doubles; Infinity where nothing leads on.
  (func $lookAheadWide (param $q i32) (param $out i32) (param $wayBytes i32) (param $size i32)
                       (param $block i32) (param $bytes i32) (param $start i32)
    (local $ahead i32) (local $k i32) (local $j i32) (local $move i32) (local $at i32)
    (local $a v128) (local $b v128) (local $blocked v128)
    (local.set $ahead (i32.add (global.get $sums)
      (i32.shl (i32.add (i32.mul (local.get $q) (global.get $width)) (local.get $start)) (i32.const 3))))
    (local.set $blocked (f64x2.splat (f64.const inf)))
    (loop $pad
      (v128.store (i32.add (local.get $out) (local.get $j)) (local.get $blocked))
      (local.set $j (i32.add (local.get $j) (i32.const 16)))
      (br_if $pad (i32.lt_u (local.get $j) (local.get $wayBytes))))
    (loop $placements
      (local.set $a (local.get $blocked))
      (local.set $b (local.get $blocked))
      (local.set $move (i32.add (local.get $block) (i32.mul (local.get $k) (local.get $bytes))))
      (local.set $at (local.get $ahead))
      (local.set $j (i32.add (local.get $move) (local.get $bytes)))
      (loop $columns
        (local.set $a (f64x2.pmin (local.get $a)
          (f64x2.add (v128.load (local.get $move)) (v128.load (local.get $at)))))
        (local.set $b (f64x2.pmin (local.get $b)
          (f64x2.add (v128.load offset=16 (local.get $move)) (v128.load offset=16 (local.get $at)))))
        (local.set $move (i32.add (local.get $move) (i32.const 32)))
        (local.set $at (i32.add (local.get $at) (i32.const 32)))
        (br_if $columns (i32.lt_u (local.get $move) (local.get $j))))
      (local.set $a (f64x2.pmin (local.get $a) (local.get $b)))
      (f64.store (i32.add (local.get $out) (i32.shl (local.get $k) (i32.const 3)))
        (f64.min (f64x2.extract_lane 0 (local.get $a)) (f64x2.extract_lane 1 (local.get $a))))
      (local.set $k (i32.add (local.get $k) (i32.const 1)))
      (br_if $placements (i32.lt_u (local.get $k) (local.get $size)))))

  ;; As relaxBack, in doubles, over the listed memory states alone (wide-messages.ts).
  (func (export "relaxWide") (param $first i32) (param $size i32) (param $wayBytes i32) (param $opened i32)
                             (param $next i32) (param $costs i32) (param $pair f64)
                             (param $block i32) (param $bytes i32) (param $start i32)
    (local $index i32) (local $g i32) (local $q i32) (local $cost f64) (local $row i32) (local $count i32)
    (local $way i32) (local $out i32) (local $end i32) (local $shift v128)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $index) (local.get $opened)))
        (local.set $g (i32.load (i32.add (global.get $open) (i32.shl (local.get $index) (i32.const 2)))))
        (local.set $index (i32.add (local.get $index) (i32.const 1)))
        (local.set $cost (f64.load (i32.add (local.get $costs) (i32.shl (local.get $g) (i32.const 3)))))
        (br_if $states (f64.eq (local.get $cost) (f64.const inf)))
        (local.set $q (i32.load16_u (i32.add (local.get $next) (i32.shl (local.get $g) (i32.const 1)))))
        (br_if $states (i32.ge_u (local.get $q) (global.get $rows)))
        (local.set $row (i32.load (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2)))))
        (if (i32.lt_s (local.get $row) (i32.const 0))
          (then
            (local.set $row (local.get $count))
            (i32.store (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2))) (local.get $row))
            (i32.store (i32.add (global.get $states) (i32.shl (local.get $row) (i32.const 2))) (local.get $q))
            (local.set $count (i32.add (local.get $count) (i32.const 1)))
            (call $lookAheadWide (local.get $q)
              (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes)))
              (local.get $wayBytes) (local.get $size)
              (local.get $block) (local.get $bytes) (local.get $start))))
        (local.set $out (i32.add (global.get $result)
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $outWidth)) (local.get $first)) (i32.const 3))))
        (local.set $way (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes))))
        (local.set $end (i32.add (local.get $way) (local.get $wayBytes)))
        (local.set $shift (f64x2.splat (f64.add (local.get $cost) (local.get $pair))))
        (loop $vectors
          (v128.store (local.get $out)
            (f64x2.pmin (v128.load (local.get $out)) (f64x2.add (v128.load (local.get $way)) (local.get $shift))))
          (local.set $out (i32.add (local.get $out) (i32.const 16)))
          (local.set $way (i32.add (local.get $way) (i32.const 16)))
          (br_if $vectors (i32.lt_u (local.get $way) (local.get $end))))
        (br $states)))
    (call $forget (local.get $count)))

  ;; S(q, h) = sum over h' with pitch n of V(h, h') A(q, h') and M(q, h) = sum of V A log V + V X(q, h'), for the h of pitch b:
  ;; rows of `ways` and `worthWays`, both `row` bytes from their start. Each row of V is followed by one of log V.
  (func $sumAhead (param $q i32) (param $row i32) (param $wayBytes i32) (param $size i32)
                  (param $block i32) (param $bytes i32) (param $start i32)
    (local $from i32) (local $k i32) (local $move i32) (local $end i32) (local $at i32) (local $x i32) (local $out i32)
    (local $a v128) (local $b v128) (local $c v128) (local $d v128) (local $zero v128) (local $v v128) (local $w v128)
    (local.set $from (i32.shl (i32.add (i32.mul (local.get $q) (global.get $width)) (local.get $start)) (i32.const 3)))
    (loop $pad
      (v128.store (i32.add (global.get $ways) (i32.add (local.get $row) (local.get $k))) (local.get $zero))
      (v128.store (i32.add (global.get $worthWays) (i32.add (local.get $row) (local.get $k))) (local.get $zero))
      (local.set $k (i32.add (local.get $k) (i32.const 16)))
      (br_if $pad (i32.lt_u (local.get $k) (local.get $wayBytes))))
    (local.set $move (local.get $block))
    (local.set $out (local.get $row))
    (local.set $k (i32.const 0))
    (loop $placements
      (local.set $a (local.get $zero))
      (local.set $b (local.get $zero))
      (local.set $c (local.get $zero))
      (local.set $d (local.get $zero))
      (local.set $at (i32.add (global.get $sums) (local.get $from)))
      (local.set $x (i32.add (global.get $worth) (local.get $from)))
      (local.set $end (i32.add (local.get $move) (local.get $bytes)))
      (loop $columns
        (local.set $v (v128.load (local.get $move)))
        (local.set $w (f64x2.mul (local.get $v) (v128.load (local.get $at))))
        (local.set $a (f64x2.add (local.get $a) (local.get $w)))
        (local.set $c (f64x2.add (local.get $c) (f64x2.add
          (f64x2.mul (local.get $w) (v128.load (i32.add (local.get $move) (local.get $bytes))))
          (f64x2.mul (local.get $v) (v128.load (local.get $x))))))
        (local.set $v (v128.load offset=16 (local.get $move)))
        (local.set $w (f64x2.mul (local.get $v) (v128.load offset=16 (local.get $at))))
        (local.set $b (f64x2.add (local.get $b) (local.get $w)))
        (local.set $d (f64x2.add (local.get $d) (f64x2.add
          (f64x2.mul (local.get $w) (v128.load offset=16 (i32.add (local.get $move) (local.get $bytes))))
          (f64x2.mul (local.get $v) (v128.load offset=16 (local.get $x))))))
        (local.set $move (i32.add (local.get $move) (i32.const 32)))
        (local.set $at (i32.add (local.get $at) (i32.const 32)))
        (local.set $x (i32.add (local.get $x) (i32.const 32)))
        (br_if $columns (i32.lt_u (local.get $move) (local.get $end))))
      (local.set $a (f64x2.add (local.get $a) (local.get $b)))
      (local.set $c (f64x2.add (local.get $c) (local.get $d)))
      (f64.store (i32.add (global.get $ways) (local.get $out))
        (f64.add (f64x2.extract_lane 0 (local.get $a)) (f64x2.extract_lane 1 (local.get $a))))
      (f64.store (i32.add (global.get $worthWays) (local.get $out))
        (f64.add (f64x2.extract_lane 0 (local.get $c)) (f64x2.extract_lane 1 (local.get $c))))
      (local.set $out (i32.add (local.get $out) (i32.const 8)))
      ;; Over the row of logarithms.
      (local.set $move (i32.add (local.get $move) (local.get $bytes)))
      (local.set $k (i32.add (local.get $k) (i32.const 1)))
      (br_if $placements (i32.lt_u (local.get $k) (local.get $size)))))

  ;; Adds f S and f (S log f + M) at the placements of pitch b, over the listed memory states (look-ahead-entropy.ts).
  (func (export "addAhead") (param $first i32) (param $size i32) (param $wayBytes i32) (param $opened i32)
                            (param $next i32) (param $weights i32) (param $logs i32) (param $pair f64) (param $pairLog f64)
                            (param $block i32) (param $bytes i32) (param $start i32)
    (local $index i32) (local $g i32) (local $q i32) (local $weight f64) (local $row i32) (local $count i32)
    (local $way i32) (local $worthWay i32) (local $to i32) (local $out i32) (local $worthOut i32) (local $end i32)
    (local $factor v128) (local $log v128) (local $sum v128)
    (block $done
      (loop $states
        (br_if $done (i32.ge_u (local.get $index) (local.get $opened)))
        (local.set $g (i32.load (i32.add (global.get $open) (i32.shl (local.get $index) (i32.const 2)))))
        (local.set $index (i32.add (local.get $index) (i32.const 1)))
        (local.set $weight (f64.load (i32.add (local.get $weights) (i32.shl (local.get $g) (i32.const 3)))))
        (br_if $states (f64.eq (local.get $weight) (f64.const 0)))
        (local.set $q (i32.load16_u (i32.add (local.get $next) (i32.shl (local.get $g) (i32.const 1)))))
        (br_if $states (i32.ge_u (local.get $q) (global.get $rows)))
        (local.set $row (i32.load (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2)))))
        (if (i32.lt_s (local.get $row) (i32.const 0))
          (then
            (local.set $row (local.get $count))
            (i32.store (i32.add (global.get $rowOf) (i32.shl (local.get $q) (i32.const 2))) (local.get $row))
            (i32.store (i32.add (global.get $states) (i32.shl (local.get $row) (i32.const 2))) (local.get $q))
            (local.set $count (i32.add (local.get $count) (i32.const 1)))
            (call $sumAhead (local.get $q) (i32.mul (local.get $row) (local.get $wayBytes))
              (local.get $wayBytes) (local.get $size)
              (local.get $block) (local.get $bytes) (local.get $start))))
        (local.set $to
          (i32.shl (i32.add (i32.mul (local.get $g) (global.get $outWidth)) (local.get $first)) (i32.const 3)))
        (local.set $out (i32.add (global.get $result) (local.get $to)))
        (local.set $worthOut (i32.add (global.get $worthResult) (local.get $to)))
        (local.set $way (i32.add (global.get $ways) (i32.mul (local.get $row) (local.get $wayBytes))))
        (local.set $worthWay (i32.add (global.get $worthWays) (i32.mul (local.get $row) (local.get $wayBytes))))
        (local.set $end (i32.add (local.get $way) (local.get $wayBytes)))
        (local.set $factor (f64x2.splat (f64.mul (local.get $weight) (local.get $pair))))
        (local.set $log (f64x2.splat (f64.add
          (f64.load (i32.add (local.get $logs) (i32.shl (local.get $g) (i32.const 3)))) (local.get $pairLog))))
        (loop $vectors
          (local.set $sum (v128.load (local.get $way)))
          (v128.store (local.get $out)
            (f64x2.add (v128.load (local.get $out)) (f64x2.mul (local.get $factor) (local.get $sum))))
          (v128.store (local.get $worthOut)
            (f64x2.add (v128.load (local.get $worthOut))
              (f64x2.mul (local.get $factor)
                (f64x2.add (f64x2.mul (local.get $sum) (local.get $log)) (v128.load (local.get $worthWay))))))
          (local.set $out (i32.add (local.get $out) (i32.const 16)))
          (local.set $worthOut (i32.add (local.get $worthOut) (i32.const 16)))
          (local.set $way (i32.add (local.get $way) (i32.const 16)))
          (local.set $worthWay (i32.add (local.get $worthWay) (i32.const 16)))
          (br_if $vectors (i32.lt_u (local.get $way) (local.get $end))))
        (br $states)))
    (call $forget (local.get $count)))
)
