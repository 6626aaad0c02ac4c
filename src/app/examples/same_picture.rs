//! Whether pictures of the window still show what they did.
//!
//! `same_picture KEPT TAKEN [--keep]` compares every picture in the folder TAKEN with the one of its name in KEPT.
//! Both are averaged over a coarse grid first, so that another driver's edges and roundings count for nothing, and a
//! panel, a word or a part that is missing does. With `--keep` the averages are written to KEPT, once somebody has
//! looked at the pictures. Knows nothing of what they show.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use bevy::asset::RenderAssetUsages;
use bevy::image::{CompressedImageFormats, Image, ImageSampler, ImageType};
use bevy::render::render_resource::{Extent3d, TextureDimension, TextureFormat};

/// Cells across and down.
const GRID: (usize, usize) = (64, 36);
/// Measured: taken again 0 % of the cells are others, with the sheet covered 12 %, from another place 53 %.
///
/// A cell is another when a channel of its average differs by more than this, of 255.
const APART: f32 = 20.0;
/// Share of cells that may be another.
const OTHERS: f32 = 0.02;

type Grid = Vec<[f32; 3]>;

fn main() -> ExitCode {
    let mut folders = Vec::new();
    let mut keep = false;
    for argument in std::env::args().skip(1) {
        match argument.as_str() {
            "--keep" => keep = true,
            _ => folders.push(PathBuf::from(argument)),
        }
    }
    let [kept, taken] = folders.as_slice() else {
        eprintln!("Give two folders: same_picture KEPT TAKEN [--keep]");
        return ExitCode::from(2);
    };
    match all(kept, taken, keep) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(2)
        }
    }
}

fn all(kept: &Path, taken: &Path, keep: bool) -> Result<bool, String> {
    let entries = std::fs::read_dir(taken).map_err(|e| format!("{}: {e}", taken.display()))?;
    let mut pictures: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|e| e == "png"))
        .collect();
    pictures.sort();
    if pictures.is_empty() {
        return Err(format!("{}: no picture to compare", taken.display()));
    }
    let mut same = true;
    for picture in pictures {
        let name = picture.file_name().expect("a file").to_owned();
        let now = averaged(&picture)?;
        let of = kept.join(&name);
        if keep {
            write(&of, &now)?;
            continue;
        }
        let before = averaged(&of)?;
        let apart =
            |(a, b): (&[f32; 3], &[f32; 3])| a.iter().zip(b).any(|(a, b)| (a - b).abs() > APART);
        let others = now.iter().zip(&before).filter(|pair| apart(*pair)).count();
        let share = others as f32 / now.len() as f32;
        let told = if share > OTHERS {
            "ANOTHER PICTURE"
        } else {
            "same"
        };
        println!(
            "{}: {told}, {:.1} % of it differs",
            name.display(),
            100.0 * share
        );
        same &= share <= OTHERS;
    }
    Ok(same)
}

/// The picture averaged over the grid.
fn averaged(path: &Path) -> Result<Grid, String> {
    let told = |why: String| format!("{}: {why}", path.display());
    let bytes = std::fs::read(path).map_err(|e| told(e.to_string()))?;
    let image = Image::from_buffer(
        &bytes,
        ImageType::Extension("png"),
        CompressedImageFormats::NONE,
        true,
        ImageSampler::Default,
        RenderAssetUsages::MAIN_WORLD,
    )
    .map_err(|e| told(e.to_string()))?;
    let (width, height) = (image.width() as usize, image.height() as usize);
    if width < GRID.0 || height < GRID.1 {
        return Err(told(format!("{width} by {height} pixels are too few")));
    }
    let data = image.data.ok_or_else(|| told("no pixels".to_owned()))?;
    let mut sums = vec![([0.0f32; 3], 0.0f32); GRID.0 * GRID.1];
    for (at, pixel) in data.chunks_exact(4).enumerate() {
        let (x, y) = (at % width, at / width);
        let cell = &mut sums[(y * GRID.1 / height) * GRID.0 + x * GRID.0 / width];
        for (sum, channel) in cell.0.iter_mut().zip(pixel) {
            *sum += f32::from(*channel);
        }
        cell.1 += 1.0;
    }
    Ok(sums
        .into_iter()
        .map(|(sum, count)| sum.map(|channel| channel / count))
        .collect())
}

fn write(path: &Path, grid: &Grid) -> Result<(), String> {
    let pixel = |cell: &[f32; 3]| [cell[0] as u8, cell[1] as u8, cell[2] as u8, 255];
    let image = Image::new(
        Extent3d {
            width: GRID.0 as u32,
            height: GRID.1 as u32,
            depth_or_array_layers: 1,
        },
        TextureDimension::D2,
        grid.iter().flat_map(pixel).collect(),
        TextureFormat::Rgba8UnormSrgb,
        RenderAssetUsages::MAIN_WORLD,
    );
    let told = |why: String| format!("{}: {why}", path.display());
    let picture = image.try_into_dynamic().map_err(|e| told(e.to_string()))?;
    picture.save(path).map_err(|e| told(e.to_string()))
}
