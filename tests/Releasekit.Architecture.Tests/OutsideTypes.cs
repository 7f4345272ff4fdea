using System.Collections.Immutable;
using System.Reflection.Metadata;

namespace Releasekit.Architecture.Tests;

/// <summary>Reads signatures and tells every type of another assembly that stands in them.</summary>
internal sealed class OutsideTypes(Action<string> found) : ISignatureTypeProvider<string, object?>
{
    public string GetTypeFromReference(MetadataReader reader, TypeReferenceHandle handle, byte rawTypeKind)
    {
        var type = reader.GetTypeReference(handle);
        var name = reader.GetString(type.Name);
        var full = type.ResolutionScope.Kind is HandleKind.TypeReference
            ? $"{GetTypeFromReference(reader, (TypeReferenceHandle)type.ResolutionScope, 0)}.{name}"
            : $"{reader.GetString(type.Namespace)}.{name}";
        found(full);
        return full;
    }

    public string GetTypeFromSpecification(
        MetadataReader reader, object? context, TypeSpecificationHandle handle, byte rawTypeKind) =>
        reader.GetTypeSpecification(handle).DecodeSignature(this, context);

    public string GetTypeFromDefinition(MetadataReader reader, TypeDefinitionHandle handle, byte rawTypeKind) => "";

    public string GetArrayType(string elementType, ArrayShape shape) => elementType;

    public string GetByReferenceType(string elementType) => elementType;

    public string GetFunctionPointerType(MethodSignature<string> signature) => "";

    public string GetGenericInstantiation(string genericType, ImmutableArray<string> typeArguments) => genericType;

    public string GetGenericMethodParameter(object? context, int index) => "";

    public string GetGenericTypeParameter(object? context, int index) => "";

    public string GetModifiedType(string modifier, string unmodifiedType, bool isRequired) => unmodifiedType;

    public string GetPinnedType(string elementType) => elementType;

    public string GetPointerType(string elementType) => elementType;

    public string GetPrimitiveType(PrimitiveTypeCode typeCode) => "";

    public string GetSZArrayType(string elementType) => elementType;
}
