//! Samples as a file that any player opens, for listening without a window.

/// A RIFF/WAVE file of mono 16-bit PCM: header of 44 bytes, then the samples, low byte first
/// (Multimedia Programming Interface and Data Specifications 1.0, 1991; from memory).
pub fn wav(samples: &[f32], rate_hz: u32) -> Vec<u8> {
    let bytes = samples.len() as u32 * 2;
    let mut file = Vec::with_capacity(44 + samples.len() * 2);
    file.extend_from_slice(b"RIFF");
    file.extend_from_slice(&(36 + bytes).to_le_bytes());
    file.extend_from_slice(b"WAVEfmt ");
    file.extend_from_slice(&16u32.to_le_bytes());
    file.extend_from_slice(&1u16.to_le_bytes());
    file.extend_from_slice(&1u16.to_le_bytes());
    file.extend_from_slice(&rate_hz.to_le_bytes());
    file.extend_from_slice(&(rate_hz * 2).to_le_bytes());
    file.extend_from_slice(&2u16.to_le_bytes());
    file.extend_from_slice(&16u16.to_le_bytes());
    file.extend_from_slice(b"data");
    file.extend_from_slice(&bytes.to_le_bytes());
    for sample in samples {
        let value = (sample.clamp(-1.0, 1.0) * 32_767.0) as i16;
        file.extend_from_slice(&value.to_le_bytes());
    }
    file
}
