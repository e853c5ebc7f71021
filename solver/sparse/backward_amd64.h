// The body of the block kernels on the way back, included for eight, six, four, two right-hand sides and one. What differs is named by macros: moves
// and operations on the low half of a row (MOV, MUL, SUB, BCAST; L0 to L15), those on the high half, which eight and six have (MOVH,
// MULH, SUBH; H1 to H14), and WIDE, the bytes of a row.

	MOVQ x+0(FP), DI
	MOVQ stride+8(FP), R13
	MOVQ own+16(FP), BX
	MOVQ width+24(FP), R10
	MOVQ m+40(FP), CX
	MOVQ a+48(FP), SI
	MOVQ dinv+56(FP), R14
	MOVQ xs+64(FP), R9
	SHLQ $3, R13

	// Own rows times the inverse pivots go to xs.
	MOVQ R9, R12
	XORQ DX, DX
own:
	MOVLQSX (BX)(DX*4), AX
	IMULQ R13, AX
	BCAST((R14)(DX*8), L6)
	MUL((DI)(AX*1), L6, L0)
	MULH(32(DI)(AX*1), H6, H1)
	MOV(L0, (R12))
	MOVH(H1, 32(R12))
	ADDQ $WIDE, R12
	INCQ DX
	CMPQ DX, R10
	JLT  own

	// Three columns at a time: xs[k] loses the lower part times the rows below.
	LEAQ -8(R10*8), R8
	LEAQ (R8)(CX*8), R8     // from an entry of a column to that of the next, for the column in hand
	MOVQ R9, R12
	LEAQ (SI)(R10*8), DX    // first entry below
	MOVQ R10, R15           // columns left
cols3:
	CMPQ R15, $3
	JLT  cols1
	MOV((R12), L0)
	MOVH(32(R12), H1)
	MOV(WIDE(R12), L2)
	MOVH((WIDE+32)(R12), H3)
	MOV(2*WIDE(R12), L4)
	MOVH((2*WIDE+32)(R12), H5)
	MOVQ below+32(FP), BX
	MOVQ CX, R11
	LEAQ -8(R8)(R8*1), R14  // to the third column
	TESTQ R11, R11
	JZ   store3
q3:
	MOVLQSX (BX), AX
	IMULQ R13, AX
	MOV((DI)(AX*1), L9)
	MOVH(32(DI)(AX*1), H10)
	BCAST((DX), L6)
	BCAST((DX)(R8*1), L7)
	BCAST((DX)(R14*1), L8)
	MUL(L9, L6, L11)
	MULH(H10, H6, H12)
	MUL(L9, L7, L13)
	MULH(H10, H7, H14)
	MUL(L9, L8, L15)
	MULH(H10, H8, H6)
	SUB(L11, L0)
	SUBH(H12, H1)
	SUB(L13, L2)
	SUBH(H14, H3)
	SUB(L15, L4)
	SUBH(H6, H5)
	ADDQ $4, BX
	ADDQ $8, DX
	DECQ R11
	JNZ  q3
store3:
	MOV(L0, (R12))
	MOVH(H1, 32(R12))
	MOV(L2, WIDE(R12))
	MOVH(H3, (WIDE+32)(R12))
	MOV(L4, 2*WIDE(R12))
	MOVH(H5, (2*WIDE+32)(R12))
	LEAQ (CX*8), AX
	SUBQ AX, DX             // back to the column's first entry below
	ADDQ R14, DX
	LEAQ -16(R8), AX
	ADDQ AX, DX             // that of the next column
	SUBQ $24, R8
	ADDQ $(3*WIDE), R12
	SUBQ $3, R15
	JMP  cols3

cols1:
	TESTQ R15, R15
	JZ   triangle
	MOV((R12), L0)
	MOVH(32(R12), H1)
	MOVQ below+32(FP), BX
	MOVQ CX, R11
	TESTQ R11, R11
	JZ   store1
q1:
	MOVLQSX (BX), AX
	IMULQ R13, AX
	BCAST((DX), L6)
	MUL((DI)(AX*1), L6, L2)
	MULH(32(DI)(AX*1), H6, H3)
	SUB(L2, L0)
	SUBH(H3, H1)
	ADDQ $4, BX
	ADDQ $8, DX
	DECQ R11
	JNZ  q1
store1:
	MOV(L0, (R12))
	MOVH(H1, 32(R12))
	LEAQ (CX*8), AX
	SUBQ AX, DX
	ADDQ R8, DX
	SUBQ $8, R8
	ADDQ $WIDE, R12
	DECQ R15
	JMP  cols1

	// The unit triangle, transposed: from the last column but one down, xs[k] loses the entry of row i times xs[i], the last i
	// first. DX stands where the first entry below of a further column would: m+1 after the last diagonal entry.
triangle:
	LEAQ 8(CX*8), AX
	SUBQ AX, DX             // diagonal entry of the last column
	LEAQ 8(AX), R8          // from a diagonal entry to that before: m+2, 8 more with each column
	MOVQ R12, R15           // end of xs
	SUBQ $WIDE, R12         // xs[k]
	MOVQ $0, CX             // rows to take
tri:
	SUBQ R8, DX
	ADDQ $8, R8
	SUBQ $WIDE, R12
	INCQ CX
	CMPQ CX, R10
	JGE  back
	MOV((R12), L0)
	MOVH(32(R12), H1)
	LEAQ (DX)(CX*8), R11
	LEAQ -WIDE(R15), R14
triI:
	BCAST((R11), L2)
	MUL((R14), L2, L3)
	MULH(32(R14), H2, H4)
	SUB(L3, L0)
	SUBH(H4, H1)
	SUBQ $8, R11
	SUBQ $WIDE, R14
	CMPQ R14, R12
	JNE  triI
	MOV(L0, (R12))
	MOVH(H1, 32(R12))
	JMP  tri

	// Own rows go back.
back:
	MOVQ own+16(FP), BX
	XORQ DX, DX
home:
	MOVLQSX (BX)(DX*4), AX
	IMULQ R13, AX
	MOV((R9), L0)
	MOVH(32(R9), H1)
	MOV(L0, (DI)(AX*1))
	MOVH(H1, 32(DI)(AX*1))
	ADDQ $WIDE, R9
	INCQ DX
	CMPQ DX, R10
	JLT  home
	VZEROUPPER
	RET
