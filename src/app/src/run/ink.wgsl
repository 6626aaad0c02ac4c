// Panels: a texture times a colour, where the full shader goes to gamma and back for every pixel.
//
// It multiplies what the screen shows, in gamma. A gamma is all but a power, and the power of a product is the
// product of the powers: multiplying light comes to the same. So only corners are worked out, not pixels.

struct Transform {
    scale: vec2<f32>,
    translation: vec2<f32>,
}

struct Corner {
    @location(0) position: vec2<f32>,
    @location(1) uv: vec2<f32>,
    @location(2) color: vec4<f32>,
}

struct Spot {
    @builtin(position) position: vec4<f32>,
    @location(0) color: vec4<f32>,
    @location(1) uv: vec2<f32>,
}

@group(0) @binding(0) var<uniform> transform: Transform;
@group(1) @binding(0) var image_texture: texture_2d<f32>;
@group(1) @binding(1) var image_sampler: sampler;

// Light of a colour as IEC 61966-2-1 writes it.
fn light_of(c: vec3<f32>) -> vec3<f32> {
    let low = c / 12.92;
    let high = pow((c + 0.055) / 1.055, vec3(2.4));
    return select(high, low, c < vec3(0.04045));
}

@vertex
fn vs_main(in: Corner) -> Spot {
    let at = in.position * transform.scale + transform.translation;
    return Spot(vec4(at, 0.0, 1.0), vec4(light_of(in.color.rgb), in.color.a), in.uv);
}

@fragment
fn fs_main(in: Spot) -> @location(0) vec4<f32> {
    // There is one size of each picture: none is to be chosen.
    return textureSampleLevel(image_texture, image_sampler, in.uv, 0.0) * in.color;
}
