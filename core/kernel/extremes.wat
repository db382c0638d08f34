;; Of each so many samples side by side, the one furthest from zero, as it is signed; of those equally far, the first. Two samples are
;; taken at a time, without a branch: which of the next is larger cannot be foretold.
;; Compiled by writeKernels.ts.
(module
  (memory (export "memory") 1)
  (func (export "findExtremes")
    (param $x i32) (param $stepBytes i32) (param $out i32) (param $outEnd i32) ;; byte addresses; an output has 4 bytes
    (local $end i32) (local $v v128) (local $most v128) (local $least v128) (local $above f64) (local $below f64)
    (loop $outputs
      (local.set $end (i32.add (local.get $x) (local.get $stepBytes)))
      (local.set $most (v128.const i64x2 0 0))
      (local.set $least (v128.const i64x2 0 0))
      (block $paired
        (loop $pairs
          (br_if $paired (i32.gt_u (i32.add (local.get $x) (i32.const 16)) (local.get $end)))
          (local.set $v (v128.load (local.get $x)))
          (local.set $most (f64x2.pmax (local.get $most) (local.get $v)))
          (local.set $least (f64x2.pmin (local.get $least) (local.get $v)))
          (local.set $x (i32.add (local.get $x) (i32.const 16)))
          (br $pairs)))
      (if (i32.lt_u (local.get $x) (local.get $end))
        (then
          (local.set $v (v128.load64_splat (local.get $x)))
          (local.set $most (f64x2.pmax (local.get $most) (local.get $v)))
          (local.set $least (f64x2.pmin (local.get $least) (local.get $v)))
          (local.set $x (local.get $end))))
      (local.set $above (f64.max (f64x2.extract_lane 0 (local.get $most)) (f64x2.extract_lane 1 (local.get $most))))
      (local.set $below (f64.min (f64x2.extract_lane 0 (local.get $least)) (f64x2.extract_lane 1 (local.get $least))))
      (if (f64.eq (local.get $above) (f64.neg (local.get $below)))
        (then
          (local.set $x (i32.sub (local.get $end) (local.get $stepBytes)))
          (loop $first
            (if (f64.lt (f64.abs (f64.load (local.get $x))) (local.get $above))
              (then
                (local.set $x (i32.add (local.get $x) (i32.const 8)))
                (br $first))))
          (local.set $above (f64.load (local.get $x)))
          (local.set $below (local.get $above))
          (local.set $x (local.get $end))))
      (f32.store (local.get $out)
        (f32.demote_f64
          (select (local.get $above) (local.get $below)
            (f64.ge (local.get $above) (f64.neg (local.get $below))))))
      (local.set $out (i32.add (local.get $out) (i32.const 4)))
      (br_if $outputs (i32.lt_u (local.get $out) (local.get $outEnd))))))
