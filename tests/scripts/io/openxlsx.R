# Writes openxlsx.xlsx, a workbook that readWorkbook.test.ts reads: Rscript openxlsx.R (R 4.2.2, openxlsx 4.2.5.2)
library(openxlsx)
book <- createWorkbook(creator = "test")
addWorksheet(book, "Lots")
lots <- data.frame(
  lot = c("L-01", "L-02"),
  bought = as.Date(c("2026-10-31", "1999-12-31")),
  moisture = c(0.135, 0.08),
  massG = c(512.25, 1e-7),
  dry = c(TRUE, FALSE)
)
writeData(book, "Lots", lots, startRow = 3, startCol = 2)
addStyle(book, "Lots", createStyle(numFmt = "0.0%"), rows = 4:5, cols = 4)
writeFormula(book, "Lots", "E4+E5", startRow = 6, startCol = 5)
mergeCells(book, "Lots", rows = 1, cols = 2:4)
writeData(book, "Lots", "B\u00fcro & S\u00f6hne", startRow = 1, startCol = 2)
addWorksheet(book, "Old", visible = FALSE)
saveWorkbook(book, "openxlsx.xlsx", overwrite = TRUE)
