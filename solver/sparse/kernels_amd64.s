#include "textflag.h"

// Every element takes its terms one by one, a product and then a difference, in the order of the Go kernels: vectors only
// put neighbouring elements side by side, and nothing is fused, so that the bits are those of the Go kernels.

// func subColumnsAVX(y *float64, n int, a *float64, ld int, c *float64, w int)
TEXT ·subColumnsAVX(SB), NOSPLIT, $0-48
	MOVQ y+0(FP), DI
	MOVQ n+8(FP), CX
	MOVQ a+16(FP), SI
	MOVQ ld+24(FP), R8
	MOVQ c+32(FP), R9
	MOVQ w+40(FP), R10
	SHLQ $3, R8

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
	ADDQ $8, R12
	ADDQ R8, R11
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
k8:
	VBROADCASTSD (R12), Y2
	VMULPD (R11), Y2, Y3
	VMULPD 32(R11), Y2, Y4
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	ADDQ $8, R12
	ADDQ R8, R11
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
k4:
	VBROADCASTSD (R12), Y2
	VMULPD (R11), Y2, Y3
	VSUBPD Y3, Y0, Y0
	ADDQ $8, R12
	ADDQ R8, R11
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
k2:
	VMOVDDUP (R12), X2
	VMULPD (R11), X2, X3
	VSUBPD X3, X0, X0
	ADDQ $8, R12
	ADDQ R8, R11
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
	ADDQ $8, R9
	ADDQ R8, SI
	DECQ R10
	JNZ  k1
	VMOVSD X0, (DI)

done:
	VZEROUPPER
	RET

// func forwardAVX(y *float64, rows *int32, m int, a *float64, ld, first, width int)
TEXT ·forwardAVX(SB), NOSPLIT, $0-56
	MOVQ y+0(FP), DI
	MOVQ rows+8(FP), BX
	MOVQ m+16(FP), CX
	MOVQ a+24(FP), SI
	MOVQ ld+32(FP), R8
	MOVQ first+40(FP), R9
	MOVQ width+48(FP), R10
	SHLQ $3, R8
	SHLQ $6, R9
	ADDQ DI, R9             // x

	// The unit triangle: row i loses a[k*ld+i] x[k], k < i.
	MOVQ $1, DX
triRow:
	CMPQ DX, R10
	JGE  below
	MOVQ DX, AX
	SHLQ $6, AX
	VMOVUPD (R9)(AX*1), Y0
	VMOVUPD 32(R9)(AX*1), Y1
	LEAQ (SI)(DX*8), R11
	MOVQ R9, R12
	MOVQ DX, R13
triK:
	VBROADCASTSD (R11), Y2
	VMULPD (R12), Y2, Y3
	VMULPD 32(R12), Y2, Y4
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	ADDQ R8, R11
	ADDQ $64, R12
	DECQ R13
	JNZ  triK
	VMOVUPD Y0, (R9)(AX*1)
	VMOVUPD Y1, 32(R9)(AX*1)
	INCQ DX
	JMP  triRow

below:
	LEAQ (SI)(R10*8), SI    // first row below
rows2:
	CMPQ CX, $2
	JLT  rows1
	MOVLQSX (BX), AX
	MOVLQSX 4(BX), DX
	SHLQ $6, AX
	SHLQ $6, DX
	VMOVUPD (DI)(AX*1), Y0
	VMOVUPD 32(DI)(AX*1), Y1
	VMOVUPD (DI)(DX*1), Y5
	VMOVUPD 32(DI)(DX*1), Y6
	MOVQ SI, R11
	MOVQ R9, R12
	MOVQ R10, R13
k2:
	VMOVUPD (R12), Y9
	VMOVUPD 32(R12), Y10
	VBROADCASTSD (R11), Y2
	VBROADCASTSD 8(R11), Y11
	VMULPD Y9, Y2, Y3
	VMULPD Y10, Y2, Y4
	VMULPD Y9, Y11, Y7
	VMULPD Y10, Y11, Y8
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	VSUBPD Y7, Y5, Y5
	VSUBPD Y8, Y6, Y6
	ADDQ R8, R11
	ADDQ $64, R12
	DECQ R13
	JNZ  k2
	VMOVUPD Y0, (DI)(AX*1)
	VMOVUPD Y1, 32(DI)(AX*1)
	VMOVUPD Y5, (DI)(DX*1)
	VMOVUPD Y6, 32(DI)(DX*1)
	ADDQ $8, BX
	ADDQ $16, SI
	SUBQ $2, CX
	JMP  rows2

rows1:
	TESTQ CX, CX
	JZ   done
	MOVLQSX (BX), AX
	SHLQ $6, AX
	VMOVUPD (DI)(AX*1), Y0
	VMOVUPD 32(DI)(AX*1), Y1
k1:
	VBROADCASTSD (SI), Y2
	VMULPD (R9), Y2, Y3
	VMULPD 32(R9), Y2, Y4
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	ADDQ R8, SI
	ADDQ $64, R9
	DECQ R10
	JNZ  k1
	VMOVUPD Y0, (DI)(AX*1)
	VMOVUPD Y1, 32(DI)(AX*1)

done:
	VZEROUPPER
	RET

// func backwardAVX(y *float64, rows *int32, m int, a, dinv *float64, ld, first, width int)
TEXT ·backwardAVX(SB), NOSPLIT, $0-64
	MOVQ y+0(FP), DI
	MOVQ m+16(FP), CX
	MOVQ a+24(FP), SI
	MOVQ dinv+32(FP), R14
	MOVQ ld+40(FP), R8
	MOVQ first+48(FP), R9
	MOVQ width+56(FP), R10
	SHLQ $3, R8
	SHLQ $6, R9
	ADDQ DI, R9             // x
	MOVQ R9, R12            // x of the next column
	LEAQ (SI)(R10*8), DX    // lower part of the next column
	MOVQ R10, R13           // columns left

	// Three columns at a time: x[k] = dinv[k] x[k] less the lower part times y.
cols3:
	CMPQ R13, $3
	JLT  cols1
	VBROADCASTSD (R14), Y6
	VBROADCASTSD 8(R14), Y7
	VBROADCASTSD 16(R14), Y8
	VMULPD (R12), Y6, Y0
	VMULPD 32(R12), Y6, Y1
	VMULPD 64(R12), Y7, Y2
	VMULPD 96(R12), Y7, Y3
	VMULPD 128(R12), Y8, Y4
	VMULPD 160(R12), Y8, Y5
	MOVQ rows+8(FP), BX
	MOVQ CX, R11
	TESTQ R11, R11
	JZ   store3
q3:
	MOVLQSX (BX), AX
	SHLQ $6, AX
	VMOVUPD (DI)(AX*1), Y9
	VMOVUPD 32(DI)(AX*1), Y10
	VBROADCASTSD (DX), Y6
	VBROADCASTSD (DX)(R8*1), Y7
	VBROADCASTSD (DX)(R8*2), Y8
	VMULPD Y9, Y6, Y11
	VMULPD Y10, Y6, Y12
	VMULPD Y9, Y7, Y13
	VMULPD Y10, Y7, Y14
	VMULPD Y9, Y8, Y15
	VMULPD Y10, Y8, Y6
	VSUBPD Y11, Y0, Y0
	VSUBPD Y12, Y1, Y1
	VSUBPD Y13, Y2, Y2
	VSUBPD Y14, Y3, Y3
	VSUBPD Y15, Y4, Y4
	VSUBPD Y6, Y5, Y5
	ADDQ $4, BX
	ADDQ $8, DX
	DECQ R11
	JNZ  q3
store3:
	VMOVUPD Y0, (R12)
	VMOVUPD Y1, 32(R12)
	VMOVUPD Y2, 64(R12)
	VMOVUPD Y3, 96(R12)
	VMOVUPD Y4, 128(R12)
	VMOVUPD Y5, 160(R12)
	MOVQ CX, AX
	SHLQ $3, AX
	SUBQ AX, DX             // back to the column's first lower row
	ADDQ R8, DX
	LEAQ (DX)(R8*2), DX
	ADDQ $192, R12
	ADDQ $24, R14
	SUBQ $3, R13
	JMP  cols3

cols1:
	TESTQ R13, R13
	JZ   triangle
	VBROADCASTSD (R14), Y6
	VMULPD (R12), Y6, Y0
	VMULPD 32(R12), Y6, Y1
	MOVQ rows+8(FP), BX
	MOVQ CX, R11
	TESTQ R11, R11
	JZ   store1
q1:
	MOVLQSX (BX), AX
	SHLQ $6, AX
	VBROADCASTSD (DX), Y6
	VMULPD (DI)(AX*1), Y6, Y2
	VMULPD 32(DI)(AX*1), Y6, Y3
	VSUBPD Y2, Y0, Y0
	VSUBPD Y3, Y1, Y1
	ADDQ $4, BX
	ADDQ $8, DX
	DECQ R11
	JNZ  q1
store1:
	VMOVUPD Y0, (R12)
	VMOVUPD Y1, 32(R12)
	MOVQ CX, AX
	SHLQ $3, AX
	SUBQ AX, DX
	ADDQ R8, DX
	ADDQ $64, R12
	ADDQ $8, R14
	DECQ R13
	JMP  cols1

	// The unit triangle, transposed: from the last column but one down, x[k] loses a[k*ld+i] x[i], the last i first.
triangle:
	MOVQ R10, R13
	SUBQ $2, R13            // k
	MOVQ R8, AX
	ADDQ $8, AX             // from one diagonal entry to the next
	IMULQ R13, AX
	ADDQ AX, SI             // diagonal entry of column k
	MOVQ R13, AX
	SHLQ $6, AX
	ADDQ AX, R9             // x[k]
	MOVQ $1, CX             // rows to take
tri:
	TESTQ R13, R13
	JL   done
	VMOVUPD (R9), Y0
	VMOVUPD 32(R9), Y1
	LEAQ (SI)(CX*8), R11
	MOVQ CX, R12
	SHLQ $6, R12
	ADDQ R9, R12
	MOVQ CX, DX
triI:
	VBROADCASTSD (R11), Y2
	VMULPD (R12), Y2, Y3
	VMULPD 32(R12), Y2, Y4
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y1, Y1
	SUBQ $8, R11
	SUBQ $64, R12
	DECQ DX
	JNZ  triI
	VMOVUPD Y0, (R9)
	VMOVUPD Y1, 32(R9)
	SUBQ R8, SI
	SUBQ $8, SI
	SUBQ $64, R9
	INCQ CX
	DECQ R13
	JMP  tri

done:
	VZEROUPPER
	RET
