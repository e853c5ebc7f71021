// The body of the block kernels on the way forward, included for eight, six, four, two right-hand sides and one. What differs is named by macros: moves
// and operations on the low half of a row (MOV, MUL, SUB, BCAST; L0 to L15), those on the high half, which eight and six have (MOVH,
// MULH, SUBH; H1 to H14), and WIDE, the bytes of a row.

	MOVQ x+0(FP), DI
	MOVQ stride+8(FP), R14
	MOVQ own+16(FP), BX
	MOVQ width+24(FP), R10
	MOVQ m+40(FP), R13
	MOVQ a+48(FP), SI
	MOVQ xs+56(FP), R9
	SHLQ $3, R14
	LEAQ -8(R10*8), R8
	LEAQ (R8)(R13*8), R8    // from a row's entry in column 0 to that in column 1; 8 less with each column

	// The unit triangle: own row i loses the entry of column k times xs[k], k < i.
	XORQ DX, DX
own:
	MOVLQSX (BX)(DX*4), AX
	IMULQ R14, AX
	MOV((DI)(AX*1), L0)
	MOVH(32(DI)(AX*1), H1)
	LEAQ (SI)(DX*8), R11
	MOVQ R8, CX
	MOVQ R9, R12
	MOVQ DX, R15
	TESTQ R15, R15
	JZ   owned
ownK:
	BCAST((R11), L2)
	MUL((R12), L2, L3)
	MULH(32(R12), H2, H4)
	SUB(L3, L0)
	SUBH(H4, H1)
	ADDQ CX, R11
	SUBQ $8, CX
	ADDQ $WIDE, R12
	DECQ R15
	JNZ  ownK
owned:
	MOV(L0, (R12))
	MOVH(H1, 32(R12))
	MOV(L0, (DI)(AX*1))
	MOVH(H1, 32(DI)(AX*1))
	INCQ DX
	CMPQ DX, R10
	JLT  own

	// Rows below, two at a time.
	LEAQ (SI)(R10*8), SI
	LEAQ WIDE(R12), R10     // end of xs
	MOVQ below+32(FP), BX
rows2:
	CMPQ R13, $2
	JLT  rows1
	MOVLQSX (BX), AX
	MOVLQSX 4(BX), DX
	IMULQ R14, AX
	IMULQ R14, DX
	MOV((DI)(AX*1), L0)
	MOVH(32(DI)(AX*1), H1)
	MOV((DI)(DX*1), L5)
	MOVH(32(DI)(DX*1), H6)
	MOVQ SI, R11
	MOVQ R8, CX
	MOVQ R9, R12
k2:
	MOV((R12), L9)
	MOVH(32(R12), H10)
	BCAST((R11), L2)
	BCAST(8(R11), L11)
	MUL(L9, L2, L3)
	MULH(H10, H2, H4)
	MUL(L9, L11, L7)
	MULH(H10, H11, H8)
	SUB(L3, L0)
	SUBH(H4, H1)
	SUB(L7, L5)
	SUBH(H8, H6)
	ADDQ CX, R11
	SUBQ $8, CX
	ADDQ $WIDE, R12
	CMPQ R12, R10
	JNE  k2
	MOV(L0, (DI)(AX*1))
	MOVH(H1, 32(DI)(AX*1))
	MOV(L5, (DI)(DX*1))
	MOVH(H6, 32(DI)(DX*1))
	ADDQ $8, BX
	ADDQ $16, SI
	SUBQ $2, R13
	JMP  rows2

rows1:
	TESTQ R13, R13
	JZ   done
	MOVLQSX (BX), AX
	IMULQ R14, AX
	MOV((DI)(AX*1), L0)
	MOVH(32(DI)(AX*1), H1)
k1:
	BCAST((SI), L2)
	MUL((R9), L2, L3)
	MULH(32(R9), H2, H4)
	SUB(L3, L0)
	SUBH(H4, H1)
	ADDQ R8, SI
	SUBQ $8, R8
	ADDQ $WIDE, R9
	CMPQ R9, R10
	JNE  k1
	MOV(L0, (DI)(AX*1))
	MOVH(H1, 32(DI)(AX*1))

done:
	VZEROUPPER
	RET
