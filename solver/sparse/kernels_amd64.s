#include "textflag.h"

// Every element takes its terms one by one, a product and then a difference, in the order of the Go kernels: vectors only
// put neighbouring elements side by side, and nothing is fused, so that the bits are those of the Go kernels.

// func subColumnsAVX(y *float64, n int, a, c *float64, stepA, stepC, less, w int)
TEXT ·subColumnsAVX(SB), NOSPLIT, $0-64
	MOVQ y+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ a+16(FP), SI
	MOVQ stepA+32(FP), R8
	MOVQ stepC+40(FP), DX
	MOVQ less+48(FP), AX
	MOVQ c+24(FP), R9
	MOVQ w+56(FP), R10
	SHLQ $3, R8
	SHLQ $3, DX
	SHLQ $3, AX

rows16:
	CMPQ CX, $16
	JLT  rows8
	VMOVUPD (DI), Y0
	VMOVUPD 32(DI), Y1
	VMOVUPD 64(DI), Y5
	VMOVUPD 96(DI), Y6
	MOVQ SI, R11
	MOVQ R9, R12
	MOVQ R10, R13
	MOVQ R8, R14
	MOVQ DX, BX
k16:
	VBROADCASTSD (R12), Y2
	VMULPD (R11), Y2, Y3
	VMULPD 32(R11), Y2, Y4
	VMULPD 64(R11), Y2, Y7
	VMULPD 96(R11), Y2, Y8
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	VSUBPD Y7, Y5, Y5
	VSUBPD Y8, Y6, Y6
	ADDQ BX, R12
	SUBQ AX, BX
	ADDQ R14, R11
	SUBQ AX, R14
	DECQ R13
	JNZ  k16
	VMOVUPD Y0, (DI)
	VMOVUPD Y1, 32(DI)
	VMOVUPD Y5, 64(DI)
	VMOVUPD Y6, 96(DI)
	ADDQ $128, DI
	ADDQ $128, SI
	SUBQ $16, CX
	JMP  rows16

rows8:
	CMPQ CX, $8
	JLT  rows4
	VMOVUPD (DI), Y0
	VMOVUPD 32(DI), Y1
	MOVQ SI, R11
	MOVQ R9, R12
	MOVQ R10, R13
	MOVQ R8, R14
	MOVQ DX, BX
k8:
	VBROADCASTSD (R12), Y2
	VMULPD (R11), Y2, Y3
	VMULPD 32(R11), Y2, Y4
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	ADDQ BX, R12
	SUBQ AX, BX
	ADDQ R14, R11
	SUBQ AX, R14
	DECQ R13
	JNZ  k8
	VMOVUPD Y0, (DI)
	VMOVUPD Y1, 32(DI)
	ADDQ $64, DI
	ADDQ $64, SI
	SUBQ $8, CX

rows4:
	CMPQ CX, $4
	JLT  rows2
	VMOVUPD (DI), Y0
	MOVQ SI, R11
	MOVQ R9, R12
	MOVQ R10, R13
	MOVQ R8, R14
	MOVQ DX, BX
k4:
	VBROADCASTSD (R12), Y2
	VMULPD (R11), Y2, Y3
	VSUBPD Y3, Y0, Y0
	ADDQ BX, R12
	SUBQ AX, BX
	ADDQ R14, R11
	SUBQ AX, R14
	DECQ R13
	JNZ  k4
	VMOVUPD Y0, (DI)
	ADDQ $32, DI
	ADDQ $32, SI
	SUBQ $4, CX

rows2:
	CMPQ CX, $2
	JLT  rows1
	VMOVUPD (DI), X0
	MOVQ SI, R11
	MOVQ R9, R12
	MOVQ R10, R13
	MOVQ R8, R14
	MOVQ DX, BX
k2:
	VMOVDDUP (R12), X2
	VMULPD (R11), X2, X3
	VSUBPD X3, X0, X0
	ADDQ BX, R12
	SUBQ AX, BX
	ADDQ R14, R11
	SUBQ AX, R14
	DECQ R13
	JNZ  k2
	VMOVUPD X0, (DI)
	ADDQ $16, DI
	ADDQ $16, SI
	SUBQ $2, CX

rows1:
	TESTQ CX, CX
	JZ   done
	VMOVSD (DI), X0
k1:
	VMOVSD (R9), X2
	VMULSD (SI), X2, X3
	VSUBSD X3, X0, X0
	ADDQ DX, R9
	SUBQ AX, DX
	ADDQ R8, SI
	SUBQ AX, R8
	DECQ R10
	JNZ  k1
	VMOVSD X0, (DI)

done:
	VZEROUPPER
	RET

DATA magnitude<>+0(SB)/8, $0x7fffffffffffffff
DATA magnitude<>+8(SB)/8, $0x7fffffffffffffff
DATA magnitude<>+16(SB)/8, $0x7fffffffffffffff
DATA magnitude<>+24(SB)/8, $0x7fffffffffffffff
GLOBL magnitude<>(SB), RODATA|NOPTR, $32

// func finishColumnAVX(l, ld, taken *float64, n int, d, dinv float64)
TEXT ·finishColumnAVX(SB), NOSPLIT, $0-48
	MOVQ l+0(FP), DI
	MOVQ ld+8(FP), SI
	MOVQ taken+16(FP), BX
	MOVQ n+24(FP), CX
	VBROADCASTSD d+32(FP), Y2
	VBROADCASTSD dinv+40(FP), Y3
	VMOVUPD magnitude<>(SB), Y4
	XORQ DX, DX
	SUBQ $4, CX
	JLT  finish2
finish4:
	VMULPD (DI)(DX*8), Y3, Y0
	VMULPD Y0, Y2, Y1
	VMOVUPD Y0, (DI)(DX*8)
	VMOVUPD Y1, (SI)(DX*8)
	VMULPD Y0, Y1, Y0
	VANDPD Y4, Y0, Y0
	VADDPD (BX)(DX*8), Y0, Y0
	VMOVUPD Y0, (BX)(DX*8)
	ADDQ $4, DX
	CMPQ DX, CX
	JLE  finish4
finish2:
	ADDQ $2, CX
	CMPQ DX, CX
	JGT  finish1
	VMULPD (DI)(DX*8), X3, X0
	VMULPD X0, X2, X1
	VMOVUPD X0, (DI)(DX*8)
	VMOVUPD X1, (SI)(DX*8)
	VMULPD X0, X1, X0
	VANDPD X4, X0, X0
	VADDPD (BX)(DX*8), X0, X0
	VMOVUPD X0, (BX)(DX*8)
	ADDQ $2, DX
finish1:
	ADDQ $1, CX
	CMPQ DX, CX
	JGT  finished
	VMULSD (DI)(DX*8), X3, X0
	VMULSD X0, X2, X1
	VMOVSD X0, (DI)(DX*8)
	VMOVSD X1, (SI)(DX*8)
	VMULSD X0, X1, X0
	VANDPD X4, X0, X0
	VADDSD (BX)(DX*8), X0, X0
	VMOVSD X0, (BX)(DX*8)
finished:
	VZEROUPPER
	RET

// func prefetchLines(a *float64, bytes int)
TEXT ·prefetchLines(SB), NOSPLIT, $0-16
	MOVQ a+0(FP), DI
	MOVQ bytes+8(FP), CX
line:
	PREFETCHT0 (DI)
	ADDQ $64, DI
	SUBQ $64, CX
	JGT  line
	RET
