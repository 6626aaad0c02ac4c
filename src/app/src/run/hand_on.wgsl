// A finished picture handed on: what is as large as where it goes is read pixel by pixel, without the
// looking between pixels and the choosing of a size that a sampled picture takes.

#import bevy_core_pipeline::fullscreen_vertex_shader::FullscreenVertexOutput

@group(0) @binding(0) var in_texture: texture_2d<f32>;
@group(0) @binding(1) var in_sampler: sampler;

@fragment
fn fs_main(in: FullscreenVertexOutput) -> @location(0) vec4<f32> {
    return textureLoad(in_texture, vec2<i32>(in.position.xy), 0);
}
