//! The sheet as Parquet: whole numbers and numbers of 64 bits, texts in UTF-8, one row group.

use std::sync::Arc;

use anyhow::Result;
use parquet::basic::{LogicalType, Repetition, Type as Physical};
use parquet::data_type::{ByteArray, ByteArrayType, DataType, DoubleType, Int64Type};
use parquet::file::properties::WriterProperties;
use parquet::file::writer::{SerializedFileWriter, SerializedRowGroupWriter};
use parquet::schema::types::Type;

use super::sheet::{Cells, Column};

/// The sheet; every cell may be missing.
pub(super) fn parquet(columns: &[Column]) -> Result<Vec<u8>> {
    let fields: Result<Vec<Arc<Type>>> = columns
        .iter()
        .map(|column| {
            let (physical, logical) = match column.cells {
                Cells::Whole(_) => (Physical::INT64, None),
                Cells::Number(_) => (Physical::DOUBLE, None),
                Cells::Text(_) => (Physical::BYTE_ARRAY, Some(LogicalType::String)),
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
    let mut bytes = Vec::new();
    let properties = Arc::new(WriterProperties::builder().build());
    let mut writer = SerializedFileWriter::new(&mut bytes, Arc::new(schema), properties)?;
    let mut group = writer.next_row_group()?;
    for column in columns {
        match &column.cells {
            Cells::Whole(cells) => write::<Int64Type>(&mut group, cells.iter().copied())?,
            Cells::Number(cells) => write::<DoubleType>(&mut group, cells.iter().copied())?,
            Cells::Text(cells) => {
                let texts = cells
                    .iter()
                    .map(|text| text.as_deref().map(ByteArray::from));
                write::<ByteArrayType>(&mut group, texts)?;
            }
        }
    }
    group.close()?;
    writer.close()?;
    Ok(bytes)
}

fn write<T: DataType>(
    group: &mut SerializedRowGroupWriter<'_, &mut Vec<u8>>,
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
    use std::io::Write;

    use parquet::file::reader::{FileReader, SerializedFileReader};

    use super::*;

    #[test]
    fn a_sheet_comes_back_as_it_was_written() {
        let columns = [
            Column {
                name: "setting".to_owned(),
                cells: Cells::Whole(vec![Some(0), Some(1)]),
            },
            Column {
                name: "tank.precharge [psi]".to_owned(),
                cells: Cells::Number(vec![Some(0.1), None]),
            },
            Column {
                name: "refused".to_owned(),
                cells: Cells::Text(vec![None, Some("too high, by 3 ½ psi".to_owned())]),
            },
        ];
        let mut file = tempfile::tempfile().unwrap();
        file.write_all(&parquet(&columns).unwrap()).unwrap();
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
