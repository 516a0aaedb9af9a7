//! The sheet as Parquet: whole numbers and numbers of 64 bits, texts in UTF-8, a row group
//! for every few hundred rows.

use std::io::Write;
use std::sync::Arc;

use anyhow::Result;
use parquet::basic::{LogicalType, Repetition, Type as Physical};
use parquet::data_type::{ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::Type;

use super::Done;
use super::sheet::{self, Cell, Column, Sort};

/// Rows of a row group: what is held before it is written.
const GROUP_ROWS: usize = 500;

/// Writes the sheet.
pub(super) fn write(done: &Done<'_>, out: impl Write + Send) -> Result<()> {
    let mut sheet = Sheet::new(&sheet::columns(done.study), out)?;
    sheet::rows(done, &mut |cells| sheet.add(cells))?;
    sheet.finish()
}

/// A sheet that is being written; every cell may be missing.
struct Sheet<W: Write + Send> {
    writer: SerializedFileWriter<W>,
    sorts: Vec<Sort>,
    rows: Vec<Vec<Cell>>,
}

impl<W: Write + Send> Sheet<W> {
    fn new(columns: &[Column], out: W) -> Result<Self> {
        let fields: Result<Vec<Arc<Type>>> = columns
            .iter()
            .map(|column| {
                let (physical, logical) = match column.sort {
                    Sort::Whole => (Physical::INT64, None),
                    Sort::Number => (Physical::DOUBLE, None),
                    Sort::Text => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
                };
                let field = Type::primitive_type_builder(&column.name, physical)
                    .with_repetition(Repetition::OPTIONAL)
                    .with_logical_type(logical)
                    .build()?;
                Ok(Arc::new(field))
            })
            .collect();
        let schema = Type::group_type_builder("study")
            .with_fields(fields?)
            .build()?;
        let properties = Arc::new(WriterProperties::builder().build());
        Ok(Self {
            writer: SerializedFileWriter::new(out, Arc::new(schema), properties)?,
            sorts: columns.iter().map(|column| column.sort).collect(),
            rows: Vec::new(),
        })
    }

    fn add(&mut self, cells: Vec<Cell>) -> Result<()> {
        self.rows.push(cells);
        if self.rows.len() >= GROUP_ROWS {
            self.flush()?;
        }
        Ok(())
    }

    fn flush(&mut self) -> Result<()> {
        let rows = std::mem::take(&mut self.rows);
        let mut group = self.writer.next_row_group()?;
        for (idx, sort) in self.sorts.iter().enumerate() {
            let cells = rows.iter().map(|row| &row[idx]);
            match sort {
                Sort::Whole => column::<Int64Type>(
                    &mut group,
                    cells.map(|cell| match cell {
                        Cell::Whole(n) => Some(*n),
                        _ => None,
                    }),
                )?,
                Sort::Number => column::<DoubleType>(
                    &mut group,
                    cells.map(|cell| match cell {
                        Cell::Number(n) => Some(*n),
                        _ => None,
                    }),
                )?,
                Sort::Text => column::<ByteArrayType>(
                    &mut group,
                    cells.map(|cell| match cell {
                        Cell::Text(text) => Some(ByteArray::from(text.as_str())),
                        _ => None,
                    }),
                )?,
            }
        }
        group.close()?;
        Ok(())
    }

    fn finish(mut self) -> Result<()> {
        if !self.rows.is_empty() {
            self.flush()?;
        }
        self.writer.close()?;
        Ok(())
    }
}

fn column<T: DataType>(
    group: &mut SerializedRowGroupWriter<'_, impl Write + Send>,
    cells: impl Iterator<Item = Option<T::T>>,
) -> Result<()> {
    let (mut values, mut levels) = (Vec::new(), Vec::new());
    for cell in cells {
        levels.push(i16::from(cell.is_some()));
        values.extend(cell);
    }
    if let Some(mut column) = group.next_column()? {
        column
            .typed::<T>()
            .write_batch(&values, Some(&levels), None)?;
        column.close()?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use parquet::file::reader::{FileReader, SerializedFileReader};

    use super::*;

    #[test]
    fn a_sheet_comes_back_as_it_was_written() {
        let column = |name: &str, sort| Column {
            name: name.to_owned(),
            sort,
        };
        let columns = [
            column("setting", Sort::Whole),
            column("tank.precharge [psi]", Sort::Number),
            column("refused", Sort::Text),
        ];
        let why = Cell::Text("too high, by 3 ½ psi".to_owned());
        let file = tempfile::tempfile().unwrap();
        let mut sheet = Sheet::new(&columns, file.try_clone().unwrap()).unwrap();
        for cells in [
            vec![Cell::Whole(0), Cell::Number(0.1), Cell::None],
            vec![Cell::Whole(1), Cell::None, why],
        ] {
            sheet.add(cells).unwrap();
        }
        sheet.finish().unwrap();
        let reader = SerializedFileReader::new(file).unwrap();
        let rows: Vec<String> = reader
            .get_row_iter(None)
            .unwrap()
            .map(|row| row.unwrap().to_string())
            .collect();
        assert_eq!(
            rows,
            [
                "{setting: 0, tank.precharge [psi]: 0.1, refused: null}",
                "{setting: 1, tank.precharge [psi]: null, refused: \"too high, by 3 ½ psi\"}",
            ]
        );
    }
}
