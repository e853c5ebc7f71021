#include "textflag.h"

// The block kernels: see forward_amd64.h and backward_amd64.h. Every element takes its terms one by one, as in kernels_amd64.s.

#define H1 Y1
#define H2 Y2
#define H3 Y3
#define H4 Y4
#define H5 Y5
#define H6 Y6
#define H7 Y7
#define H8 Y8
#define H10 Y10
#define H11 Y11
#define H12 Y12
#define H14 Y14

#define WIDE 64
#define MOV(a, b) VMOVUPD a, b
#define MUL(a, b, c) VMULPD a, b, c
#define SUB(a, b) VSUBPD a, b, b
#define BCAST(a, b) VBROADCASTSD a, b
#define MOVH(a, b) VMOVUPD a, b
#define MULH(a, b, c) VMULPD a, b, c
#define SUBH(a, b) VSUBPD a, b, b
#define L0 Y0
#define L2 Y2
#define L3 Y3
#define L4 Y4
#define L5 Y5
#define L6 Y6
#define L7 Y7
#define L8 Y8
#define L9 Y9
#define L11 Y11
#define L13 Y13
#define L15 Y15

// func forward8(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)
TEXT ·forward8(SB), NOSPLIT, $0-64
#include "forward_amd64.h"

// func backward8(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)
TEXT ·backward8(SB), NOSPLIT, $0-72
#include "backward_amd64.h"

#undef H1
#define H1 X1
#undef H2
#define H2 X2
#undef H3
#define H3 X3
#undef H4
#define H4 X4
#undef H5
#define H5 X5
#undef H6
#define H6 X6
#undef H7
#define H7 X7
#undef H8
#define H8 X8
#undef H10
#define H10 X10
#undef H11
#define H11 X11
#undef H12
#define H12 X12
#undef H14
#define H14 X14
#undef WIDE
#define WIDE 48

// func forward6(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)
TEXT ·forward6(SB), NOSPLIT, $0-64
#include "forward_amd64.h"

// func backward6(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)
TEXT ·backward6(SB), NOSPLIT, $0-72
#include "backward_amd64.h"

#undef WIDE
#undef MOV
#undef MUL
#undef SUB
#undef BCAST
#undef MOVH
#undef MULH
#undef SUBH
#define WIDE 32
#define MOV(a, b) VMOVUPD a, b
#define MUL(a, b, c) VMULPD a, b, c
#define SUB(a, b) VSUBPD a, b, b
#define BCAST(a, b) VBROADCASTSD a, b
#define MOVH(a, b)
#define MULH(a, b, c)
#define SUBH(a, b)

// func forward4(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)
TEXT ·forward4(SB), NOSPLIT, $0-64
#include "forward_amd64.h"

// func backward4(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)
TEXT ·backward4(SB), NOSPLIT, $0-72
#include "backward_amd64.h"

#undef WIDE
#undef MOV
#undef MUL
#undef SUB
#undef BCAST
#undef MOVH
#undef MULH
#undef SUBH
#define WIDE 16
#define MOV(a, b) VMOVUPD a, b
#define MUL(a, b, c) VMULPD a, b, c
#define SUB(a, b) VSUBPD a, b, b
#define BCAST(a, b) VMOVDDUP a, b
#define MOVH(a, b)
#define MULH(a, b, c)
#define SUBH(a, b)
#undef L0
#define L0 X0
#undef L2
#define L2 X2
#undef L3
#define L3 X3
#undef L4
#define L4 X4
#undef L5
#define L5 X5
#undef L6
#define L6 X6
#undef L7
#define L7 X7
#undef L8
#define L8 X8
#undef L9
#define L9 X9
#undef L11
#define L11 X11
#undef L13
#define L13 X13
#undef L15
#define L15 X15

// func forward2(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)
TEXT ·forward2(SB), NOSPLIT, $0-64
#include "forward_amd64.h"

// func backward2(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)
TEXT ·backward2(SB), NOSPLIT, $0-72
#include "backward_amd64.h"

#undef WIDE
#undef MOV
#undef MUL
#undef SUB
#undef BCAST
#undef MOVH
#undef MULH
#undef SUBH
#define WIDE 8
#define MOV(a, b) VMOVSD a, b
#define MUL(a, b, c) VMULSD a, b, c
#define SUB(a, b) VSUBSD a, b, b
#define BCAST(a, b) VMOVSD a, b
#define MOVH(a, b)
#define MULH(a, b, c)
#define SUBH(a, b)

// func forward1(x *float64, stride int, own *int32, width int, below *int32, m int, a, xs *float64)
TEXT ·forward1(SB), NOSPLIT, $0-64
#include "forward_amd64.h"

// func backward1(x *float64, stride int, own *int32, width int, below *int32, m int, a, dinv, xs *float64)
TEXT ·backward1(SB), NOSPLIT, $0-72
#include "backward_amd64.h"
