#include "textflag.h"

// The kernels for one right-hand side, in elimination order. Vectors hold neighbouring rows on the way forward and neighbouring
// columns on the way back; every element takes its terms one by one, as in kernels_amd64.s.

// Four entries of y named by the list at BX from byte o on.
#define GATHER(o, xa, ya, xt) \
	MOVLQSX (o+0)(BX), AX; \
	MOVLQSX (o+4)(BX), DX; \
	VMOVSD (DI)(AX*8), xa; \
	VMOVHPD (DI)(DX*8), xa, xa; \
	MOVLQSX (o+8)(BX), AX; \
	MOVLQSX (o+12)(BX), DX; \
	VMOVSD (DI)(AX*8), xt; \
	VMOVHPD (DI)(DX*8), xt, xt; \
	VINSERTF128 $1, xt, ya, ya

#define SCATTER(o, xa, ya, xt) \
	MOVLQSX (o+0)(BX), AX; \
	MOVLQSX (o+4)(BX), DX; \
	VEXTRACTF128 $1, ya, xt; \
	VMOVLPD xa, (DI)(AX*8); \
	VMOVHPD xa, (DI)(DX*8); \
	MOVLQSX (o+8)(BX), AX; \
	MOVLQSX (o+12)(BX), DX; \
	VMOVLPD xt, (DI)(AX*8); \
	VMOVHPD xt, (DI)(DX*8)

// func forwardOneAVX(y *float64, first, width int, below *int32, m int, a *float64)
TEXT ·forwardOneAVX(SB), NOSPLIT, $0-48
	MOVQ y+0(FP), DI
	MOVQ first+8(FP), R9
	MOVQ width+16(FP), R10
	MOVQ m+32(FP), R13
	MOVQ a+40(FP), SI
	LEAQ (DI)(R9*8), R9     // own rows
	LEAQ -8(R10*8), R8
	LEAQ (R8)(R13*8), R8    // from an entry of a column to that of the next; 8 less with each

	// The unit triangle, four columns at a time. DX is the diagonal entry of the first of them, R11, R14 and R15 are as many rows
	// down in the others.
	MOVQ R9, R12
	MOVQ SI, DX
	MOVQ R10, CX            // columns left
head4:
	CMPQ CX, $4
	JLT  head1
	LEAQ (DX)(R8*1), R11
	LEAQ -8(R11)(R8*1), R14
	LEAQ -16(R14)(R8*1), R15
	VMOVSD (R12), X0
	VMOVSD 8(R12), X1
	VMOVSD 16(R12), X2
	VMOVSD 24(R12), X3
	VMULSD 8(DX), X0, X4
	VMULSD 16(DX), X0, X5
	VMULSD 24(DX), X0, X6
	VSUBSD X4, X1, X1
	VSUBSD X5, X2, X2
	VSUBSD X6, X3, X3
	VMULSD 16(R11), X1, X4
	VMULSD 24(R11), X1, X5
	VSUBSD X4, X2, X2
	VSUBSD X5, X3, X3
	VMULSD 24(R14), X2, X4
	VSUBSD X4, X3, X3
	VMOVSD X1, 8(R12)
	VMOVSD X2, 16(R12)
	VMOVSD X3, 24(R12)
	SUBQ $4, CX
	JZ   headed
	VMOVDDUP X0, X0
	VMOVDDUP X1, X1
	VMOVDDUP X2, X2
	VMOVDDUP X3, X3
	VINSERTF128 $1, X0, Y0, Y0
	VINSERTF128 $1, X1, Y1, Y1
	VINSERTF128 $1, X2, Y2, Y2
	VINSERTF128 $1, X3, Y3, Y3
	MOVQ $4, BX
	MOVQ CX, AX             // rows of the head that are left
rest4:
	CMPQ AX, $4
	JLT  rest2
	VMOVUPD (R12)(BX*8), Y4
	VMULPD (DX)(BX*8), Y0, Y5
	VMULPD (R11)(BX*8), Y1, Y6
	VMULPD (R14)(BX*8), Y2, Y7
	VMULPD (R15)(BX*8), Y3, Y8
	VSUBPD Y5, Y4, Y4
	VSUBPD Y6, Y4, Y4
	VSUBPD Y7, Y4, Y4
	VSUBPD Y8, Y4, Y4
	VMOVUPD Y4, (R12)(BX*8)
	ADDQ $4, BX
	SUBQ $4, AX
	JMP  rest4
rest2:
	CMPQ AX, $2
	JLT  rest1
	VMOVUPD (R12)(BX*8), X4
	VMULPD (DX)(BX*8), X0, X5
	VMULPD (R11)(BX*8), X1, X6
	VMULPD (R14)(BX*8), X2, X7
	VMULPD (R15)(BX*8), X3, X8
	VSUBPD X5, X4, X4
	VSUBPD X6, X4, X4
	VSUBPD X7, X4, X4
	VSUBPD X8, X4, X4
	VMOVUPD X4, (R12)(BX*8)
	ADDQ $2, BX
	SUBQ $2, AX
rest1:
	TESTQ AX, AX
	JZ   next4
	VMOVSD (R12)(BX*8), X4
	VMULSD (DX)(BX*8), X0, X5
	VMULSD (R11)(BX*8), X1, X6
	VMULSD (R14)(BX*8), X2, X7
	VMULSD (R15)(BX*8), X3, X8
	VSUBSD X5, X4, X4
	VSUBSD X6, X4, X4
	VSUBSD X7, X4, X4
	VSUBSD X8, X4, X4
	VMOVSD X4, (R12)(BX*8)
next4:
	LEAQ 8(R15)(R8*1), DX
	SUBQ $32, R8
	ADDQ $32, R12
	JMP  head4

head1:
	CMPQ CX, $1
	JLE  headed
	VMOVSD (R12), X0
	MOVQ $1, BX
head1row:
	VMULSD (DX)(BX*8), X0, X2
	VMOVSD (R12)(BX*8), X1
	VSUBSD X2, X1, X1
	VMOVSD X1, (R12)(BX*8)
	INCQ BX
	CMPQ BX, CX
	JLT  head1row
	LEAQ 8(DX)(R8*1), DX
	SUBQ $8, R8
	ADDQ $8, R12
	DECQ CX
	JMP  head1

	// Rows below: twelve, eight or four at a time, then two and one.
headed:
	LEAQ -8(R10*8), R8
	LEAQ (R8)(R13*8), R8
	LEAQ (SI)(R10*8), SI
	LEAQ (R9)(R10*8), R10   // end of the own rows
	MOVQ below+24(FP), BX
rows12:
	CMPQ R13, $12
	JLT  rows8
	GATHER(0, X0, Y0, X4)
	GATHER(16, X1, Y1, X5)
	GATHER(32, X2, Y2, X6)
	MOVQ SI, R11
	MOVQ R8, CX
	MOVQ R9, R12
k12:
	VBROADCASTSD (R12), Y3
	VMULPD (R11), Y3, Y4
	VMULPD 32(R11), Y3, Y5
	VMULPD 64(R11), Y3, Y6
	VSUBPD Y4, Y0, Y0
	VSUBPD Y5, Y1, Y1
	VSUBPD Y6, Y2, Y2
	ADDQ CX, R11
	SUBQ $8, CX
	ADDQ $8, R12
	CMPQ R12, R10
	JNE  k12
	SCATTER(0, X0, Y0, X4)
	SCATTER(16, X1, Y1, X5)
	SCATTER(32, X2, Y2, X6)
	ADDQ $48, BX
	ADDQ $96, SI
	SUBQ $12, R13
	JMP  rows12
rows8:
	CMPQ R13, $8
	JLT  rows4
	GATHER(0, X0, Y0, X4)
	GATHER(16, X1, Y1, X5)
	MOVQ SI, R11
	MOVQ R8, CX
	MOVQ R9, R12
k8:
	VBROADCASTSD (R12), Y3
	VMULPD (R11), Y3, Y4
	VMULPD 32(R11), Y3, Y5
	VSUBPD Y4, Y0, Y0
	VSUBPD Y5, Y1, Y1
	ADDQ CX, R11
	SUBQ $8, CX
	ADDQ $8, R12
	CMPQ R12, R10
	JNE  k8
	SCATTER(0, X0, Y0, X4)
	SCATTER(16, X1, Y1, X5)
	ADDQ $32, BX
	ADDQ $64, SI
	SUBQ $8, R13
rows4:
	CMPQ R13, $4
	JLT  rows2
	GATHER(0, X0, Y0, X4)
	MOVQ SI, R11
	MOVQ R8, CX
	MOVQ R9, R12
k4:
	VBROADCASTSD (R12), Y3
	VMULPD (R11), Y3, Y4
	VSUBPD Y4, Y0, Y0
	ADDQ CX, R11
	SUBQ $8, CX
	ADDQ $8, R12
	CMPQ R12, R10
	JNE  k4
	SCATTER(0, X0, Y0, X4)
	ADDQ $16, BX
	ADDQ $32, SI
	SUBQ $4, R13
rows2:
	CMPQ R13, $2
	JLT  rows1
	MOVLQSX (BX), AX
	MOVLQSX 4(BX), DX
	VMOVSD (DI)(AX*8), X0
	VMOVHPD (DI)(DX*8), X0, X0
	MOVQ SI, R11
	MOVQ R8, CX
	MOVQ R9, R12
k2:
	VMOVDDUP (R12), X3
	VMULPD (R11), X3, X4
	VSUBPD X4, X0, X0
	ADDQ CX, R11
	SUBQ $8, CX
	ADDQ $8, R12
	CMPQ R12, R10
	JNE  k2
	VMOVLPD X0, (DI)(AX*8)
	VMOVHPD X0, (DI)(DX*8)
	ADDQ $8, BX
	ADDQ $16, SI
	SUBQ $2, R13
rows1:
	TESTQ R13, R13
	JZ   done
	MOVLQSX (BX), AX
	VMOVSD (DI)(AX*8), X0
k1:
	VMOVSD (R9), X3
	VMULSD (SI), X3, X4
	VSUBSD X4, X0, X0
	ADDQ R8, SI
	SUBQ $8, R8
	ADDQ $8, R9
	CMPQ R9, R10
	JNE  k1
	VMOVSD X0, (DI)(AX*8)
done:
	VZEROUPPER
	RET

// Rows i and i+1 of four columns, whose row 0 is at R8, R9, R11 and R15: ya and yb, each with an entry a column.
#define ROWS4(i, xa, ya, xb, yb, xt, yt) \
	VMOVUPD (R8)(i*8), xt; \
	VINSERTF128 $1, (R11)(i*8), yt, yt; \
	VMOVUPD (R9)(i*8), xb; \
	VINSERTF128 $1, (R15)(i*8), yb, yb; \
	VUNPCKLPD yb, yt, ya; \
	VUNPCKHPD yb, yt, yb

// Row i alone.
#define ROW4(i, xa, ya, xt) \
	VMOVSD (R8)(i*8), xa; \
	VMOVHPD (R9)(i*8), xa, xa; \
	VMOVSD (R11)(i*8), xt; \
	VMOVHPD (R15)(i*8), xt, xt; \
	VINSERTF128 $1, xt, ya, ya

// Row 0 of column k, to r; AX and DX are scratch, CX is the height.
#define COLUMN(k, r) \
	LEAQ -1(CX)(CX*1), AX; \
	SUBQ k, AX; \
	IMULQ k, AX; \
	LEAQ (R14)(AX*4), r

// func backwardOneAVX(y, dinv *float64, first, width int, below *int32, m int, a, soon *float64)
TEXT ·backwardOneAVX(SB), NOSPLIT, $0-64
	MOVQ y+0(FP), DI
	MOVQ first+16(FP), SI
	MOVQ width+24(FP), R10  // columns left
	MOVQ m+40(FP), CX
	MOVQ a+48(FP), R14
	MOVQ soon+56(FP), R12   // asked from memory line by line, downwards
	ADDQ R10, CX            // height
	LEAQ (DI)(SI*8), SI     // own rows

	// The last column alone if they are odd in number.
	TESTQ $1, R10
	JZ   pair
	DECQ R10
	COLUMN(R10, R8)
	MOVQ dinv+8(FP), AX
	MOVQ first+16(FP), DX
	ADDQ R10, DX
	VMOVSD (AX)(DX*8), X0
	VMULSD (SI)(R10*8), X0, X0
	MOVQ below+32(FP), BX
	LEAQ 1(R10), R13
q1:
	CMPQ R13, CX
	JGE  store1
	MOVLQSX (BX), AX
	VMOVSD (R8)(R13*8), X1
	VMULSD (DI)(AX*8), X1, X1
	VSUBSD X1, X0, X0
	ADDQ $4, BX
	INCQ R13
	JMP  q1
store1:
	VMOVSD X0, (SI)(R10*8)

	// Then two if they are not a multiple of four.
pair:
	TESTQ $2, R10
	JZ   four
	SUBQ $2, R10
	COLUMN(R10, R8)
	MOVQ CX, R9
	SUBQ R10, R9
	LEAQ -8(R8)(R9*8), R9
	MOVQ dinv+8(FP), AX
	MOVQ first+16(FP), DX
	ADDQ R10, DX
	VMOVUPD (AX)(DX*8), X0
	VMULPD (SI)(R10*8), X0, X0
	MOVQ below+32(FP), BX
	MOVQ width+24(FP), R13
pair2:
	LEAQ 2(R13), AX
	CMPQ AX, CX
	JGT  pair1
	VMOVUPD (R8)(R13*8), X1
	VMOVUPD (R9)(R13*8), X2
	VUNPCKLPD X2, X1, X3
	VUNPCKHPD X2, X1, X4
	MOVLQSX (BX), AX
	MOVLQSX 4(BX), DX
	VMOVDDUP (DI)(AX*8), X5
	VMOVDDUP (DI)(DX*8), X6
	VMULPD X5, X3, X3
	VMULPD X6, X4, X4
	VSUBPD X3, X0, X0
	VSUBPD X4, X0, X0
	ADDQ $8, BX
	ADDQ $2, R13
	JMP  pair2
pair1:
	CMPQ R13, CX
	JGE  pairHead
	MOVLQSX (BX), AX
	VMOVSD (R8)(R13*8), X1
	VMOVHPD (R9)(R13*8), X1, X1
	VMOVDDUP (DI)(AX*8), X5
	VMULPD X5, X1, X1
	VSUBPD X1, X0, X0
pairHead:
	LEAQ 2(R10), AX
	CMPQ AX, width+24(FP)
	JGE  pairTri
	VMOVSD (R8)(AX*8), X1
	VMOVHPD (R9)(AX*8), X1, X1
	VMOVDDUP (SI)(AX*8), X5
	VMULPD X5, X1, X1
	VSUBPD X1, X0, X0
pairTri:
	VUNPCKHPD X0, X0, X1
	VMULSD 8(R8)(R10*8), X1, X2
	VSUBSD X2, X0, X0
	VMOVSD X0, (SI)(R10*8)
	VMOVSD X1, 8(SI)(R10*8)

	// Then four at a time.
four:
	TESTQ R10, R10
	JZ   done
	SUBQ $4, R10
	COLUMN(R10, R8)
	MOVQ CX, DX
	SUBQ R10, DX
	LEAQ -8(R8)(DX*8), R9
	LEAQ -16(R9)(DX*8), R11
	LEAQ -24(R11)(DX*8), R15
	MOVQ dinv+8(FP), AX
	MOVQ first+16(FP), DX
	ADDQ R10, DX
	VMOVUPD (AX)(DX*8), Y0
	VMULPD (SI)(R10*8), Y0, Y0
	MOVQ below+32(FP), BX
	MOVQ width+24(FP), R13
four2:
	LEAQ 2(R13), AX
	CMPQ AX, CX
	JGT  four1
	ROWS4(R13, X3, Y3, X4, Y4, X1, Y1)
	MOVLQSX (BX), AX
	MOVLQSX 4(BX), DX
	VBROADCASTSD (DI)(AX*8), Y5
	VBROADCASTSD (DI)(DX*8), Y6
	VMULPD Y5, Y3, Y3
	VMULPD Y6, Y4, Y4
	VSUBPD Y3, Y0, Y0
	VSUBPD Y4, Y0, Y0
	PREFETCHT0 (R12)
	PREFETCHT0 -64(R12)
	SUBQ $128, R12
	ADDQ $8, BX
	ADDQ $2, R13
	JMP  four2
four1:
	CMPQ R13, CX
	JGE  fourHead
	ROW4(R13, X1, Y1, X2)
	MOVLQSX (BX), AX
	VBROADCASTSD (DI)(AX*8), Y5
	VMULPD Y5, Y1, Y1
	VSUBPD Y1, Y0, Y0
fourHead:
	LEAQ 4(R10), BX         // rows of the head from here on have been solved for
	MOVQ width+24(FP), R13
head2:
	LEAQ -2(R13), AX
	CMPQ AX, BX
	JLT  head1
	ROWS4(AX, X3, Y3, X4, Y4, X1, Y1)
	VBROADCASTSD (SI)(AX*8), Y5
	VBROADCASTSD 8(SI)(AX*8), Y6
	VMULPD Y5, Y3, Y3
	VMULPD Y6, Y4, Y4
	VSUBPD Y4, Y0, Y0
	VSUBPD Y3, Y0, Y0
	MOVQ AX, R13
	JMP  head2
head1:
	CMPQ R13, BX
	JLE  fourTri
	DECQ R13
	ROW4(R13, X1, Y1, X2)
	VBROADCASTSD (SI)(R13*8), Y5
	VMULPD Y5, Y1, Y1
	VSUBPD Y1, Y0, Y0
fourTri:
	VEXTRACTF128 $1, Y0, X2
	VUNPCKHPD X0, X0, X1
	VUNPCKHPD X2, X2, X3
	VMULSD 24(R11)(R10*8), X3, X4
	VMULSD 24(R9)(R10*8), X3, X5
	VMULSD 24(R8)(R10*8), X3, X6
	VSUBSD X4, X2, X2
	VSUBSD X5, X1, X1
	VSUBSD X6, X0, X0
	VMULSD 16(R9)(R10*8), X2, X5
	VMULSD 16(R8)(R10*8), X2, X6
	VSUBSD X5, X1, X1
	VSUBSD X6, X0, X0
	VMULSD 8(R8)(R10*8), X1, X6
	VSUBSD X6, X0, X0
	VMOVSD X0, (SI)(R10*8)
	VMOVSD X1, 8(SI)(R10*8)
	VMOVSD X2, 16(SI)(R10*8)
	VMOVSD X3, 24(SI)(R10*8)
	JMP  four

done:
	VZEROUPPER
	RET
